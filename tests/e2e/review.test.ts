/** Review, as a player uses it. */

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { holdTime, letTimeFlow, until } from './controlled-time.ts';
import {
  chooseChart,
  gradeAgain,
  root,
  saved,
  savedReport,
  verdicts,
  withProgram,
} from './the-program.ts';

const openPage = withProgram();

describe('a demo take', () => {
  test('opens in review, grades as the command grades its saved file, and asks no other machine', async () => {
    const { page, seen, done } = await openPage();
    await page.getByRole('button', { name: 'holes in the waltz' }).click();
    await page.getByRole('heading', { name: 'Snow on the Quay' }).waitFor();
    await expect.poll(() => page.getByText('Gaps 3').count()).toBe(1);
    const report = await savedReport(page, 'waltz.json');
    const midi = await saved(page, 'Save as MIDI', 'waltz.mid');
    const chart = join(root, 'shared', 'charts', 'snow-on-the-quay.chart');
    expect(verdicts(gradeAgain(midi, chart))).toEqual(verdicts(report));
    expect(report.summary.gap).toBe(3);
    expect(seen).toEqual({ errors: [], foreign: [] });
    done();
  });

  test('a finding leads to its chorus and bar', async () => {
    const { page, done } = await openPage();
    await page.getByRole('button', { name: 'late at seven' }).click();
    await page.getByRole('button', { name: /chorus 2, bar 10, beat 1.*late by 2 slots/ }).click();
    await expect
      .poll(() =>
        page.getByRole('button', { name: 'chorus 2', exact: true }).getAttribute('aria-pressed'),
      )
      .toBe('true');
    await expect.poll(() => page.locator('.bar.current .bar-number').textContent()).toContain('10');
    // The same chorus on the staff: its one note outside has its shape below, and a name in words.
    await page.getByText('This chorus on a staff').click();
    const staff = page.locator('.line-staff');
    await staff.locator('svg').waitFor();
    await expect.poll(() => staff.locator('.note-outside').count()).toBe(1);
    await expect.poll(() => staff.getAttribute('aria-label')).toContain('A♭4 (outside)');
    // On paper the findings and the figures of the heatmaps stand there, and nothing to press.
    await page.emulateMedia({ media: 'print' });
    await expect
      .poll(() => page.getByText(/chorus 2, bar 10, beat 1.*late by 2 slots/).isVisible())
      .toBe(true);
    await expect
      .poll(() => page.locator('.heatmap').first().getByText('2', { exact: true }).count())
      .toBe(2);
    await expect.poll(() => page.locator('.heatmap td button').first().isVisible()).toBe(true);
    await expect.poll(() => page.getByRole('button', { name: 'Hear the take' }).count()).toBe(0);
    await page.emulateMedia({ media: null });
    const score = await saved(page, 'Save the take as MusicXML', 'take.musicxml');
    expect(readFileSync(score, 'utf8').match(/<pitch>/gu)).toHaveLength(192);
    done();
  });

  test('a remark is kept, a deleted take comes back', async () => {
    const { page, done } = await openPage();
    await page.getByRole('button', { name: 'first evening' }).click();
    await page.getByLabel('A remark to yourself').fill('the left hand was cold <b>really</b>');
    await page.getByText('Saved.').waitFor();
    await page.getByRole('button', { name: 'Delete this take' }).click();
    await page.getByRole('button', { name: 'Undo' }).click();
    await page.getByRole('button', { name: 'Delete this take' }).waitFor();
    await page.getByRole('button', { name: '← Charts' }).click();
    await chooseChart(page, 'Lantern Walk');
    await page
      .getByRole('button', { name: /steps at 66/ })
      .first()
      .click();
    await expect
      .poll(() => page.getByLabel('A remark to yourself').inputValue())
      .toBe('the left hand was cold <b>really</b>');
    done();
  });
});

describe('the review of a take', () => {
  test('a cell of the heatmap leads to its place, which can be heard; two takes stand side by side', async () => {
    const { page, seen, done } = await openPage();
    await page.getByRole('button', { name: 'until closing time' }).click();
    await page.getByRole('button', { name: '← Charts' }).click();
    await page.getByRole('button', { name: 'until closing time' }).click();
    await page.getByRole('button', { name: /^bar \d+: 1 late change/ }).click();
    const hear = page.getByRole('button', { name: /^Hear chorus \d+, bar \d+/ });
    const [, bar] = /bar (\d+)/.exec((await hear.textContent()) ?? '') ?? [];
    await expect.poll(() => page.locator('.bar.current .bar-number').textContent()).toContain(bar);
    await holdTime(page);
    await hear.click();
    // What sounds is marked; the bar before the place is heard first, for the ear.
    const before = new RegExp(`^bar ${Number(bar) - 1}\\b`);
    await until(page, page.locator('.bar.current .bar-number', { hasText: before }));
    await page.getByRole('button', { name: 'Stop', exact: true }).click();
    await letTimeFlow(page);
    await page.getByLabel('Compare with').selectOption({ index: 1 });
    await page.getByText('No bar was clearly cleaner').waitFor();
    expect(seen).toEqual({ errors: [], foreign: [] });
    done();
  });
});
