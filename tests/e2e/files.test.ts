/** Files that a player opens, drops and imports, good and bad. */

import { readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { until } from './controlled-time.ts';
import { drop } from './drop.ts';
import { pressFor } from './fake-keyboard.ts';
import {
  folder,
  pressStart,
  root,
  saved,
  savedReport,
  stopTake,
  withProgram,
} from './the-program.ts';

const openPage = withProgram();

describe('opening a MIDI file', () => {
  test('is mapped onto its chart with the grid in sight, and graded', async () => {
    const { page, seen, done } = await openPage();
    const bytes = readFileSync(join(root, 'shared', 'demo-takes', 'late-at-seven.mid'));
    await drop(page, 'late-at-seven.mid', bytes);
    await page.getByLabel('Played on the chart').selectOption({ label: 'Boiler Room Blues' });
    await page.getByText(/Half of the notes lie within \d+\.\d ms of a slot\.$/).waitFor();
    // Half an eighth later than it is: the notes lie between the slots, and the page says so.
    const at = page.getByLabel('or at, ms in the file');
    const startMs = Number(await at.inputValue());
    await at.fill(String(startMs + 250));
    await page.getByText('Do tempo and first downbeat fit?').waitFor();
    await at.fill(String(startMs));
    await page.getByRole('button', { name: 'Grade this take' }).click();
    await page.getByText('14 of 17 changes on time').waitFor();
    expect((await savedReport(page, 'opened.json')).summary.changes.late).toBe(3);
    expect(seen).toEqual({ errors: [], foreign: [] });
    done();
  });
});

describe('importing a chart', () => {
  test('makes it a chart of the library', async () => {
    const { page, done } = await openPage();
    const text = 'title: Gangway Three\nkey: F\nmeter: 4/4\n\n[A]\n| Gm7 | C7 | Fmaj7 | % |\n';
    await drop(page, 'gangway.changes', Buffer.from(text));
    await page.getByRole('heading', { name: 'Gangway Three' }).waitFor();
    await page.getByRole('button', { name: 'Delete this chart' }).click();
    await expect.poll(() => page.getByRole('button', { name: 'Gangway Three' }).count()).toBe(0);
    done();
  });
});

describe('importing MusicXML', () => {
  const HARMONY = (step: string, kind: string) =>
    `<harmony><root><root-step>${step}</root-step></root><kind>${kind}</kind></harmony><note><rest/><duration>4</duration></note>`;
  const score = (second: string) =>
    `<score-partwise><work><work-title>Cold Storage</work-title></work><part-list/><part id="P1"><measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>${HARMONY('D', 'minor-seventh')}</measure><measure number="2">${second}</measure></part></score-partwise>`;

  test('takes what can be taken, and lists what was not understood', async () => {
    const { page, seen, done } = await openPage();
    await drop(page, 'cold.musicxml', Buffer.from(score(HARMONY('G', 'Tristan'))));
    await page.getByRole('heading', { name: 'Cold Storage' }).waitFor();
    await page
      .getByText('cold.musicxml: Measure 2: the kind of chord “Tristan” was not understood')
      .waitFor();
    await page.getByRole('button', { name: 'I have read this' }).click();
    const file = await saved(page, 'Save as MusicXML', 'cold-again.musicxml');
    expect(readFileSync(file, 'utf8')).toContain('<kind text="m7">minor-seventh</kind>');
    expect(seen).toEqual({ errors: [], foreign: [] });
    done();
  });

  test('keeps the melody: shown over the chords, copied, saved again, and not shown over other bars', async () => {
    const { page, seen, done } = await openPage();
    const sung = (step: string) =>
      `<note><pitch><step>${step}</step><octave>5</octave></pitch><duration>4</duration></note>`;
    const rest = '<note><rest/><duration>4</duration></note>';
    const bytes = score(HARMONY('G', 'dominant').replace(rest, sung('B'))).replace(rest, sung('D'));
    await drop(page, 'sung.musicxml', Buffer.from(bytes.replace('Cold Storage', 'Sung Storage')));
    await page.getByRole('heading', { name: 'Sung Storage' }).waitFor();
    const staff = (notes: string) => page.getByRole('img', { name: `Melody: ${notes}` });
    await page.getByRole('checkbox', { name: 'Melody' }).check();
    await staff('D5 B5').locator('.vf-stavenote').first().waitFor();
    await page.getByRole('button', { name: 'Duplicate' }).click();
    await page.getByRole('heading', { name: 'Sung Storage, copy' }).waitFor();
    await page.getByLabel(/^KeyC/).selectOption({ label: 'D' });
    await page.getByRole('checkbox', { name: 'Melody' }).check();
    await staff('E5 C♯6').waitFor();
    const file = await saved(page, 'Save as MusicXML', 'sung-again.musicxml');
    expect(readFileSync(file, 'utf8')).toContain('<step>B</step><octave>5</octave>');
    // A bar more than the melody was written over.
    await page.getByRole('button', { name: /^Edit chart/ }).click();
    await page.locator('.edit-page').waitFor();
    await page.getByRole('checkbox', { name: 'Melody' }).check();
    await staff('D5 B5').locator('.vf-stavenote').first().waitFor();
    await page.locator('.edit-page [data-chord]').first().focus();
    await page.keyboard.press('Insert');
    await page.getByText('written over 2 bars, and the chart has 3 now').waitFor();
    await expect.poll(() => staff('D5 B5').count()).toBe(0);
    expect(seen).toEqual({ errors: [], foreign: [] });
    done();
  });

  test('refuses what cannot be read in one sentence, and imports the others of the same drop', async () => {
    const { page, done } = await openPage();
    await drop(page, 'torn.musicxml', Buffer.from('<score-partwise><part>'));
    await page.getByText('torn.musicxml was not imported:').waitFor();
    await page.getByText('0 charts imported').waitFor();
    done();
  });
});

describe('bad input', () => {
  test('a file that is no take says what it is and what to do, on the screen where it was opened', async () => {
    const { page, done } = await openPage();
    const file = join(folder, 'song.mid');
    writeFileSync(file, 'ID3 this is another kind of file');
    await page.locator('input[type=file]').last().setInputFiles(file);
    await page.getByText('it looks like an MP3 sound file').waitFor();
    done();
  });

  test('a chart with errors says all of them with their places, and changes nothing', async () => {
    const { page, done } = await openPage();
    const text = 'title: Broken\nkey: F\nmeter: 4/4\n\n[A]\n| Gm7 | Cq7 | Fmaj7 | Hx |\n';
    await drop(page, 'broken.chart', Buffer.from(text));
    const told = await page.getByRole('alert').textContent();
    expect(told).toContain('broken.chart was not imported');
    expect(told).toMatch(/Line 6, column 10: Read “q7”/);
    expect(told).toMatch(/Line 6, column 23: Read “Hx”/);
    await expect
      .poll(() => page.getByRole('button', { name: 'Broken', exact: true }).count())
      .toBe(0);
    done();
  });

  test('a file of another kind is refused with the kinds that are opened', async () => {
    const { page, done } = await openPage();
    await drop(page, 'photo.png', Buffer.from([0x89, 0x50]));
    await page
      .getByText('charts end in .changes, .chart, .musicxml or .mxl, takes in .mid')
      .waitFor();
    done();
  });

  test('a refused MIDI permission says what to do, and the computer keys still play', async () => {
    const { page, context } = await openPage();
    await page.addInitScript(() => {
      Object.defineProperty(navigator, 'requestMIDIAccess', {
        value: () => Promise.reject(new DOMException('no', 'SecurityError')),
      });
    });
    await page.reload();
    await page.getByRole('button', { name: 'Play', exact: true }).click();
    await page.getByText('The browser was not allowed to use MIDI.').waitFor();
    await pressStart(page);
    await until(page, page.locator('.stage-bar.current'));
    await pressFor(page, 'KeyX', 80);
    await until(page, page.locator('.totals', { hasText: /of \d+ clean/ }));
    await stopTake(page);
    await context.close();
  });
});
