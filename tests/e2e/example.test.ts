/** An example line on the first screen: written, heard, saved, and clean by the grader of files. */

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { DRILLS } from '../../src/core/line/index.ts';
import { letTimeFlow } from './controlled-time.ts';
import { playScript } from './fake-keyboard.ts';
import { chooseChart, gradeAgain, root, saved, withProgram } from './the-program.ts';

const openPage = withProgram();
const CHART = join(root, 'shared', 'charts', 'lantern-walk.chart');

test('is written for the level chosen, engraved, heard with the bar marked, and clean when its file is graded', async () => {
  const { page, seen, done } = await openPage();
  await chooseChart(page, 'Lantern Walk');
  await page
    .locator('label.field', { hasText: /^Level/ })
    .locator('select')
    .selectOption({ index: 1 });
  await page.getByText('An example line, written and heard').click();
  const staff = page.locator('.line-staff');
  await staff.locator('svg').waitFor();
  const first = await staff.getAttribute('aria-label');
  // 8 bars of 4/4 in eighths, and the closing note.
  expect(first?.replace('Line: ', '').split(' ')).toHaveLength(65);
  await page.getByRole('button', { name: 'Another line' }).click();
  await expect.poll(() => staff.getAttribute('aria-label')).not.toBe(first);
  const recording = page.waitForResponse((response) => response.url().endsWith('/piano/69.ogg'));
  await page.getByRole('button', { name: 'Hear the line' }).click();
  expect((await recording).headers()['content-type']).toBe('audio/ogg');
  await page.locator('.line-staff .sounding').waitFor();
  await page.getByRole('button', { name: 'Stop', exact: true }).click();
  await expect.poll(() => page.locator('.line-staff .sounding').count()).toBe(0);
  const file = await saved(page, 'Save the line as MIDI', 'line.mid');
  const report = gradeAgain(file, CHART, '--level', 'thirds');
  expect([report.summary.slots, report.summary.clean]).toEqual([64, 64]);
  expect(report.summary.changes.onTime).toBe(report.summary.changes.counted);
  expect(report.closing).toMatchObject({ chord: 'Bbmaj7', chordTone: true });
  expect(seen).toEqual({ errors: [], foreign: [] });
  done();
});

test('that cannot be written says where and what to do', async () => {
  const { page, done } = await openPage();
  await chooseChart(page, 'Lantern Walk');
  await page.getByText('An example line, written and heard').click();
  await page.getByLabel('Highest key, MIDI').fill('60');
  await page.getByText(/Chorus 1, bar 1, beat \d .*Widen the register/).waitFor();
  done();
});

test('may be a drill: told, engraved, heard, saved, and clean at the level it claims', async () => {
  const { page, seen, done } = await openPage();
  await openExample(page);
  const line = await notesShown(page);
  for (const { style, name, about, graded, level } of DRILLS) {
    await select(page, 'Line or drill', `drill: ${name.toLowerCase()}`);
    await page.getByText(`${name}. ${about} ${graded}`).waitFor();
    const notes = await notesShown(page);
    expect(notes, style).not.toEqual(line);
    const report = gradeAgain(
      await saved(page, 'Save the line as MIDI', `${style}.mid`),
      CHART,
      ...['--level', level],
    );
    const shown = notes.map((note) => note.replace('♭', 'b').replace('♯', '#'));
    expect(report.slots.map(({ note }) => note?.name)).toEqual(shown);
    expect(report.summary.clean, style).toBe(notes.length);
  }
  // Half notes, two to each of the eight bars; but in the last the first chord has three beats.
  const score = readFileSync(
    await saved(page, 'Save the line as MusicXML', 'drill.musicxml'),
    'utf8',
  );
  expect(score.match(/<type>half<\/type>/gu)).toHaveLength(15);
  expect(score.match(/<type>quarter<\/type>/gu)).toHaveLength(2);
  await page.getByLabel('Again and again').check();
  await page.getByRole('button', { name: 'Hear the line' }).click();
  await page.locator('.line-staff .sounding').waitFor();
  await page.getByRole('button', { name: 'Stop', exact: true }).click();
  await page.getByLabel('Highest key, MIDI').fill('60');
  await page.getByText(/^Guide-tone line, Chorus 1, bar 1, beat 1 .*Widen the register/).waitFor();
  expect(seen).toEqual({ errors: [], foreign: [] });
  done();
});

test('begins on the key played on a keyboard, after it, and on one of the computer’s keys', async () => {
  const { page, seen, done } = await openPage();
  await openExample(page);
  await select(page, 'Begins', 'on the key played last');
  await page.getByText('play a key', { exact: true }).waitFor();
  await page.getByText('Listening to Stage piano').waitFor();
  await playScript(page, [{ afterMs: 0, midi: 74, holdMs: 40 }]);
  await letTimeFlow(page);
  await page.getByRole('status').getByText('D5', { exact: true }).waitFor();
  await expect.poll(async () => (await notesShown(page))[0]).toBe('D5');
  await select(page, 'Line or drill', 'drill: broken thirds');
  await expect.poll(async () => (await notesShown(page)).slice(0, 2)).toEqual(['D5', 'F5']);
  await select(page, 'Line or drill', 'line at the level chosen');
  await select(page, 'Begins', 'after the key played last');
  // At `steps` the first note is a step away from D.
  await expect.poll(async () => (await notesShown(page))[0]).toMatch(/^(C|E♭|E)5$/);
  // A box that was ticked leaves letters to the piano.
  await page.getByLabel('Palettes below').check();
  await select(page, 'Begins', 'on the key played last');
  await page.getByLabel('Palettes below').uncheck();
  await page.keyboard.press('KeyV');
  await expect.poll(async () => (await notesShown(page))[0]).toBe('F4');
  // B natural is not in the first palette, and at `steps` nothing leads out of it.
  await page.keyboard.press('KeyM');
  await page.getByText(/Chorus 1, bar 1, beat 1 .*Begin on/).waitFor();
  expect(seen).toEqual({ errors: [], foreign: [] });
  done();
});

test('keeps register and shape for its chart', async () => {
  const { page, done } = await openPage();
  await openExample(page);
  await select(page, 'Shape', 'arpeggios');
  await page.getByLabel('Lowest key, MIDI').fill('48');
  await chooseChart(page, 'Long Pier');
  await page.getByText('An example line, written and heard').click();
  await expect.poll(() => page.getByLabel('Lowest key, MIDI').inputValue()).toBe('60');
  await page.reload();
  await chooseChart(page, 'Lantern Walk');
  await page.getByText('An example line, written and heard').click();
  await expect.poll(() => page.getByLabel('Lowest key, MIDI').inputValue()).toBe('48');
  const shape = page.locator('label.field', { hasText: /^Shape/ }).locator('option:checked');
  await expect.poll(() => shape.textContent()).toBe('arpeggios');
  done();
});

/** The example at `steps`, in the right hand's register, whatever was chosen last. */
async function openExample(page: Page): Promise<void> {
  await chooseChart(page, 'Lantern Walk');
  await select(page, 'Level', 'steps: one palette step, or up to two semitones');
  await page.getByText('An example line, written and heard').click();
  await page.getByLabel('Highest key, MIDI').fill('84');
  await page.getByLabel('Lowest key, MIDI').fill('60');
  await page.locator('.line-staff svg').waitFor();
}

async function select(page: Page, field: string, words: string): Promise<void> {
  const label = page.locator('label.field', { hasText: new RegExp(`^${field}`) });
  await label.locator('select').selectOption({ label: words });
}

/** The notes on the staff, as it reads them out. */
async function notesShown(page: Page): Promise<readonly string[]> {
  const label = await page.locator('.line-staff').getAttribute('aria-label');
  return (label ?? '').replace('Line: ', '').split(' ');
}

test('the staff has its swing mark, and palettes when they are asked for', async () => {
  const { page, done } = await openPage();
  await openExample(page);
  const staff = page.locator('.line-staff');
  const words = async () => (await staff.locator('text').allTextContents()).join('\n');
  await expect.poll(() => words()).not.toContain('swing');
  await expect.poll(() => words()).not.toContain('B♭ ionian');
  await page.getByText('Grid and rules').click();
  await page.getByLabel('Swing, long : 1').fill('2');
  await expect.poll(words).toContain('swing, 2 : 1');
  await page.getByLabel('Palettes below').check();
  await expect.poll(words).toContain('B♭ ionian');
  done();
});

test('a practice sheet has a line for each level, and goes to paper of both sizes', async () => {
  const { page, context } = await openPage({ colorScheme: 'dark' });
  await chooseChart(page, 'Lantern Walk');
  await page.getByRole('button', { name: 'Practice sheet for printing' }).click();
  await page.locator('.line-staff svg').nth(3).waitFor();
  const headings = await page.locator('.sheet h2').allTextContents();
  expect(headings.map((heading) => heading.split(':')[0])).toEqual([
    // The first is a section of the chart.
    ...['A', 'steps', 'thirds', 'leaps', 'free', 'Tempos'],
  ]);
  for (const format of ['A4', 'Letter'] as const) {
    const pdf = (await page.pdf({ format })).toString('latin1');
    // Sizes in points. Source: ISO 216, ANSI/ASME Y14.1; 72 points to the inch.
    const [width = 0, height = 0] = (/\/MediaBox \[0 0 ([\d.]+) ([\d.]+)\]/.exec(pdf) ?? [])
      .slice(1)
      .map(Number);
    const [across, down] = format === 'A4' ? [595.3, 841.9] : [612, 792];
    // Chromium reckons in its own units and rounds up.
    expect(Math.abs(width - across)).toBeLessThan(2);
    expect(Math.abs(height - down)).toBeLessThan(2);
  }
  await context.close();
});
