/** A tune that begins before bar 1: written by keyboard, seen on the page, played, reviewed, heard of in the files. */

import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { passTime } from './controlled-time.ts';
import { playFromDownbeat } from './fake-keyboard.ts';
import {
  gradeAgain,
  saved,
  savedReport,
  start,
  stopTake,
  verdicts,
  withProgram,
} from './the-program.ts';

const openPage = withProgram();

/** Eighths at 120 from the first of a pickup of one beat: two before bar 1, then the line. */
const KEYS = [59, 60, 62, 64, 65, 67, 69, 71].map((midi, slot) => ({
  ...{ midi, afterMs: slot * 250, holdMs: 180 },
}));

describe('a chart with a pickup', () => {
  test('is written by keyboard, shown before bar 1, played through, and graded from bar 1 on', async () => {
    const { page, seen, done } = await openPage();
    await page.getByRole('button', { name: 'Write a new chart' }).click();
    await page.locator('.edit-page [data-bar="0"]').first().focus();
    // Up from bar 1; what is no pickup is told there, and mended.
    await page.keyboard.press('ArrowUp');
    await page.getByRole('button', { name: 'Before bar 1: no pickup' }).waitFor();
    await page.keyboard.type('4 G7');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Write 3 G7' }).waitFor();
    await page.keyboard.press('ArrowUp');
    await page.keyboard.press('Enter');
    await page.getByLabel('Length and chords of the pickup').waitFor();
    await page.keyboard.press('Control+a');
    await page.keyboard.type('1 G7');
    await page.keyboard.press('Enter');
    await page.getByRole('button', { name: 'Before bar 1: pickup, 1 beat, G7' }).waitFor();
    // Taken out, and back.
    await page.keyboard.press('ArrowUp');
    await page.keyboard.press('Delete');
    await page.getByRole('button', { name: 'Before bar 1: no pickup' }).waitFor();
    await page.keyboard.press('Control+z');
    await page.getByRole('button', { name: 'Before bar 1: pickup, 1 beat, G7' }).waitFor();
    await page.getByText('Stored.').waitFor();
    await page.getByRole('button', { name: '← Charts' }).click();
    await page.getByRole('region', { name: 'pickup, 1 beat' }).waitFor();
    const chart = await saved(page, 'Save as chart text', 'pickup.changes');
    expect(readFileSync(chart, 'utf8')).toContain('\npickup: 1 G7\n');

    await page.getByLabel('Tempo', { exact: true }).fill('120');
    await page.getByRole('button', { name: 'Play', exact: true }).click();
    await start(page);
    // The last of the four beats counted in is the pickup.
    await playFromDownbeat(page, KEYS, 3);
    await expect.poll(() => page.locator('.pickup-line .stage-note').count()).toBe(2);
    await passTime(page, 400);
    await stopTake(page);
    await expect.poll(() => page.locator('.pickup .note-clean').count()).toBe(2);
    const report = await savedReport(page, 'pickup.json');
    expect(report.slots[0]).toMatchObject({ chorus: 1, bar: 1, beat: 1, sub: 0 });
    const played = report.slots.flatMap(({ note }) => (note === null ? [] : [note.midi]));
    expect(played).toEqual([62, 64, 65, 67, 69, 71]);
    expect(report.extras).toEqual([]);
    // The notes before bar 1 are in the file, which starts earlier by a bar, and change nothing there either.
    const midi = await saved(page, 'Save as MIDI', 'pickup.mid');
    expect(verdicts(gradeAgain(midi, chart, '--tempo', '120'))).toEqual(verdicts(report));
    await page.getByText('This chorus on a staff').click();
    const xml = readFileSync(
      await saved(page, 'Save the take as MusicXML', 'pickup.musicxml'),
      'utf8',
    );
    const measure = /<measure number="0" implicit="yes">.*?<\/measure>/su.exec(xml)?.[0] ?? '';
    expect([...measure.matchAll(/<step>(.)</gu)].map(([, step]) => step)).toEqual(['B', 'C']);
    expect(seen).toEqual({ errors: [], foreign: [] });
    done();
  });
});
