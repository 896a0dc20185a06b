/** An example line on the first screen: written, heard, saved, and clean by the grader of files. */

import { join } from 'node:path';
import { expect, test } from 'vitest';
import { chooseChart, gradeAgain, root, saved, withProgram } from './the-program.ts';

const openPage = withProgram();

test('is written for the level chosen, engraved, heard with the bar marked, and clean when its file is graded', async () => {
  const { page, context, seen } = await openPage();
  await chooseChart(page, 'Lantern Walk');
  await page
    .locator('label.field', { hasText: /^Level/ })
    .locator('select')
    .selectOption({ index: 1 });
  await page.getByText('An example line, written and heard').click();
  const staff = page.locator('.line-staff');
  await staff.locator('svg').waitFor();
  const first = await staff.getAttribute('aria-label');
  // 8 bars of 4/4 in eighths.
  expect(first?.replace('Line: ', '').split(' ')).toHaveLength(64);
  await page.getByRole('button', { name: 'Another line' }).click();
  await expect.poll(() => staff.getAttribute('aria-label')).not.toBe(first);
  const recording = page.waitForResponse((response) => response.url().endsWith('/piano/69.ogg'));
  await page.getByRole('button', { name: 'Hear the line' }).click();
  expect((await recording).headers()['content-type']).toBe('audio/ogg');
  await page.locator('.line-staff .sounding').waitFor();
  await page.getByRole('button', { name: 'Stop', exact: true }).click();
  await expect.poll(() => page.locator('.line-staff .sounding').count()).toBe(0);
  const file = await saved(page, 'Save the line as MIDI', 'line.mid');
  const chart = join(root, 'shared', 'charts', 'lantern-walk.chart');
  const report = gradeAgain(file, chart, '--level', 'thirds');
  expect([report.summary.slots, report.summary.clean]).toEqual([64, 64]);
  expect(report.summary.changes.onTime).toBe(report.summary.changes.counted);
  expect(seen).toEqual({ errors: [], foreign: [] });
  await context.close();
});

test('that cannot be written says where and what to do', async () => {
  const { page, context } = await openPage();
  await chooseChart(page, 'Lantern Walk');
  await page.getByText('An example line, written and heard').click();
  await page.getByLabel('Highest key, MIDI').fill('60');
  await page.getByText(/Chorus 1, bar 1, beat \d .*Widen the register/).waitFor();
  await context.close();
});
