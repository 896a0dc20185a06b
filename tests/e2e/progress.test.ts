/** Takes become a decision: what holds, what is next, and the bars that broke most, alone. */

import { expect, test } from 'vitest';
import { until } from './controlled-time.ts';
import { pressFor } from './fake-keyboard.ts';
import { start, stopTake, withProgram } from './the-program.ts';

const openPage = withProgram();

test('is empty with a word on how to begin, then tells what holds and starts the next step', async () => {
  const { page, seen, done } = await openPage();
  await page.getByRole('button', { name: 'Progress' }).click();
  await page.getByText('after two takes at one tempo, or after one of four choruses').waitFor();
  // A raise asks for two takes or more.
  for (const demo of ['first evening', 'first evening', 'heavy tray']) {
    await page.getByRole('button', { name: 'Charts', exact: true }).click();
    await page.getByRole('button', { name: demo }).click();
    await page.getByText('slots clean').first().waitFor();
  }
  await page.getByRole('button', { name: 'Progress' }).click();
  const evening = page.getByRole('region', { name: 'Lantern Walk, steps' });
  await evening
    .getByText(/^Holds at 66; the goal is \d+\. Last played at 66, today\. Due again in /)
    .waitFor();
  // What was played last is open; a dot of its plot leads to its take, by keyboard.
  await evening.getByText('Where it breaks, and its tempos').click();
  await evening
    .getByRole('link', { name: /128 of 128 clean at 66/ })
    .first()
    .focus();
  await page.keyboard.press('Enter');
  await page.getByRole('heading', { name: 'Lantern Walk' }).waitFor();
  await page.getByRole('button', { name: 'Progress' }).click();
  await evening.getByRole('button', { name: 'Play at 69' }).click();
  await page.getByText('steps · plain · B♭ · 69').waitFor();
  expect(seen).toEqual({ errors: [], foreign: [] });
  done();
});

test('a review offers the bars that broke most as an endless drill, slower', async () => {
  const { page, done } = await openPage();
  await page.getByRole('button', { name: 'late at seven' }).click();
  await page.getByRole('button', { name: 'Drill bars 6 and 7 at 55' }).click();
  await page.getByText('steps · plain · F · bars 6–7 · 55').waitFor();
  await start(page);
  await until(page, page.locator('.stage-bar.current'));
  await pressFor(page, 'KeyX', 100);
  await stopTake(page);
  done();
});
