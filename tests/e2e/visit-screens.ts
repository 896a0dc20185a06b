/** The way through every screen of the program, for what has to hold on all of them. */

import { join } from 'node:path';
import type { Page } from 'playwright';
import { chooseChart, root } from './the-program.ts';

const DEMO = join(root, 'shared', 'demo-takes', 'late-at-seven.mid');

/** Goes through every screen, and calls back on each with its name. */
export async function visitScreens(
  page: Page,
  check: (screen: string) => Promise<void>,
): Promise<void> {
  await chooseChart(page, 'Lantern Walk');
  await page.getByText('Grid and rules').click();
  await page.getByText('Click, bass and chords').click();
  await page.getByText('An example line, written and heard').click();
  await page.locator('.line-staff svg').waitFor();
  await check('choose');
  await page.getByRole('button', { name: 'Practice sheet for printing' }).click();
  await page.locator('.line-staff svg').nth(2).waitFor();
  await check('sheet');
  await page.getByRole('button', { name: '← Charts' }).click();
  await page.getByText('Grid and rules').waitFor();
  await page.getByRole('button', { name: /^Edit chart/ }).click();
  await page
    .getByRole('img', { name: /^Written/ })
    .locator('svg')
    .waitFor();
  await page.locator('.edit-page [data-chord]').nth(1).click();
  await page.getByText('Notes of your own').click();
  await check('edit');
  await page.getByRole('button', { name: '← Charts' }).click();
  await page.getByText('Grid and rules').waitFor();
  await page.keyboard.press('F1');
  await page.getByRole('dialog').waitFor();
  await check('help');
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Settings' }).click();
  await page.getByText('Listening to Stage piano').waitFor();
  await check('settings');
  await page.getByRole('button', { name: 'Calibrate' }).first().click();
  await page.getByRole('button', { name: 'Start the click' }).waitFor();
  await check('calibrate');
  await page.getByRole('button', { name: 'Charts', exact: true }).click();
  await page.locator('input[type=file]').last().setInputFiles(DEMO);
  await page.getByRole('button', { name: 'Grade this take' }).waitFor();
  await check('open');
  await page.getByRole('button', { name: 'Charts', exact: true }).click();
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await page.getByRole('button', { name: 'Start' }).waitFor();
  await check('play');
  await page.getByRole('button', { name: '← Charts' }).click();
  await page.getByRole('button', { name: 'late at seven' }).click();
  await page.getByText('slots clean').first().waitFor();
  await check('review');
  await page.getByRole('button', { name: 'Charts', exact: true }).click();
  await page.getByRole('button', { name: 'first evening' }).click();
  await page.getByText('slots clean').first().waitFor();
  await page.getByRole('button', { name: 'Progress' }).click();
  await page.locator('.tempo-plot').first().waitFor();
  await page.getByRole('region', { name: 'Where it breaks' }).locator('table').waitFor();
  await check('progress');
  await page.getByRole('button', { name: 'Today' }).click();
  await page.locator('.proposed-item').first().waitFor();
  await check('today');
  await page.getByRole('button', { name: 'Journal' }).click();
  await page.getByText('Takes of this session').first().click();
  await check('journal');
  await page.getByRole('button', { name: 'Report for a teacher' }).click();
  await page.getByRole('heading', { name: /^Practice from/ }).waitFor();
  await check('teacher report');
}
