/** The program as a player uses it, in real Chromium against the browser host. */

import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { AxeBuilder } from '@axe-core/playwright';
import type { Browser, BrowserContext, Page } from 'playwright';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import type { Report } from '../../src/core/grading/index.ts';
import { giveFakeMidi, playScript, plug, type ScriptedKey } from './fake-keyboard.ts';
import { openBrowser, type Program, startProgram, watch } from './start-program.ts';

const root = join(import.meta.dirname, '..', '..');
const folder = mkdtempSync(join(tmpdir(), 'e2e-'));
let browser: Browser;
let program: Program;

beforeAll(async () => {
  browser = await openBrowser();
  program = await startProgram();
});
afterAll(async () => {
  await browser.close();
  await program.stop();
});

/** A page of its own, opened the way a second start opens it. */
async function openPage(
  options: Parameters<Browser['newContext']>[0] = {},
  of: Program = program,
): Promise<{ page: Page; context: BrowserContext; seen: ReturnType<typeof watch> }> {
  const context = await browser.newContext(options);
  await giveFakeMidi(context);
  const page = await context.newPage();
  const seen = watch(page);
  const { url } = await startProgram(of.dataFolder);
  await page.goto(url);
  await page.getByRole('heading', { name: 'Linekeeper' }).waitFor();
  return { page, context, seen };
}

async function chooseChart(page: Page, title: string): Promise<void> {
  await page.getByRole('button', { name: title }).click();
  await page.getByRole('heading', { name: title }).waitFor();
}

/** Saves with a button of the review screen and reads what was saved. */
async function saved(page: Page, button: string, name: string): Promise<string> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: button }).click(),
  ]);
  const path = join(folder, name);
  await download.saveAs(path);
  return path;
}

function gradeAgain(midiFile: string, chart: string, ...options: readonly string[]): Report {
  const script = join(root, 'src', 'main', 'grade.ts');
  const run = spawnSync(
    process.execPath,
    [script, midiFile, '--chart', chart, '--json', ...options],
    { encoding: 'utf8' },
  );
  if (run.status !== 0) throw new Error(run.stderr);
  return JSON.parse(run.stdout);
}

function verdicts(report: Report) {
  return {
    slots: report.slots.map(({ note, faults, marks }) => [note?.midi ?? null, faults, marks]),
    changes: report.changes.map(({ slot, arrival, bySlots }) => [slot, arrival, bySlots]),
    clean: report.summary.clean,
  };
}

describe('a demo take', () => {
  test('opens in review, grades as the command grades its saved file, and asks no other machine', async () => {
    const { page, context, seen } = await openPage();
    await page.getByRole('button', { name: 'holes in the waltz' }).click();
    await page.getByRole('heading', { name: 'Snow on the Quay' }).waitFor();
    expect(await page.getByText('Gaps 3').count()).toBe(1);
    const report: Report = JSON.parse(
      readFileSync(await saved(page, 'Save report as JSON', 'waltz.json'), 'utf8'),
    );
    const midi = await saved(page, 'Save as MIDI', 'waltz.mid');
    const chart = join(root, 'shared', 'charts', 'snow-on-the-quay.chart');
    expect(verdicts(gradeAgain(midi, chart))).toEqual(verdicts(report));
    expect(report.summary.gap).toBe(3);
    expect(seen).toEqual({ errors: [], foreign: [] });
    await context.close();
  });

  test('a finding leads to its chorus and bar', async () => {
    const { page, context } = await openPage();
    await page.getByRole('button', { name: 'late at seven' }).click();
    await page.getByRole('button', { name: /chorus 2, bar 10, beat 1.*late by 2 slots/ }).click();
    await expect
      .poll(() =>
        page.getByRole('button', { name: 'chorus 2', exact: true }).getAttribute('aria-pressed'),
      )
      .toBe('true');
    expect(await page.locator('.bar.current .bar-number').textContent()).toContain('10');
    await context.close();
  });

  test('a remark is kept, a deleted take comes back', async () => {
    const { page, context } = await openPage();
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
    expect(await page.getByLabel('A remark to yourself').inputValue()).toBe(
      'the left hand was cold <b>really</b>',
    );
    await context.close();
  });
});

/** Eighths at 120: five clean by step, one left out, one late, one outside, then on. */
const SLOPPY: readonly (ScriptedKey & { readonly slot: number })[] = [
  [0, 62, 0],
  [1, 64, 8],
  [2, 65, -6],
  [3, 67, 4],
  [4, 69, 0],
  [6, 67, 90],
  [7, 66, 0],
  [8, 65, 5],
  [9, 64, 0],
  [10, 62, 0],
].map(([slot = 0, midi = 0, offMs = 0]) => ({
  slot,
  midi,
  afterMs: slot * 250 + offMs,
  holdMs: 180,
}));

/** Starts a take on Long Pier at 120 and waits until the first downbeat is `leadMs` away. */
async function startTake(page: Page): Promise<void> {
  await chooseChart(page, 'Long Pier');
  await page.getByLabel('Tempo').fill('120');
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await page.getByText('Listening to Stage piano').waitFor();
  await page.getByRole('button', { name: 'Start' }).click();
  // The bar under way is marked from the first downbeat on.
  await page.locator('.bar.current').waitFor();
}

describe('playing', () => {
  test('live totals are those of the stored report, and of the command on the saved file', async () => {
    const { page, context, seen } = await openPage();
    await startTake(page);
    await playScript(
      page,
      SLOPPY.map((key) => ({ ...key, afterMs: key.afterMs + 500 })),
    );
    await page.waitForTimeout(600);
    const live = await page.locator('.totals').textContent();
    await page.keyboard.press('Escape');
    await page.getByRole('heading', { name: 'Long Pier' }).waitFor();
    const figures = /(\d+) of (\d+) slots clean/;
    const reviewed = figures.exec(
      (await page.getByText('slots clean').first().textContent()) ?? '',
    );
    expect(figures.exec(live ?? '')?.slice(1)).toEqual(reviewed?.slice(1));
    const report: Report = JSON.parse(
      readFileSync(await saved(page, 'Save report as JSON', 'pier.json'), 'utf8'),
    );
    expect(String(report.summary.clean)).toBe(reviewed?.[1]);
    // What was planted is there: one slot left out, one note late, one outside.
    const outside = report.slots.filter(({ faults }) => faults.includes('outside'));
    expect(outside.map(({ note }) => note?.midi)).toEqual([66]);
    const played = report.slots.flatMap(({ note }) => (note === null ? [] : [note.midi]));
    expect(played).toEqual(SLOPPY.map(({ midi }) => midi));
    const midi = await saved(page, 'Save as MIDI', 'pier.mid');
    const chart = join(root, 'shared', 'charts', 'long-pier.chart');
    expect(verdicts(gradeAgain(midi, chart, '--tempo', '120'))).toEqual(verdicts(report));
    expect(seen.foreign).toEqual([]);
    await context.close();
  });

  test('a keyboard unplugged in mid-take loses nothing, and plays on when it is back', async () => {
    const { page, context } = await openPage();
    await startTake(page);
    await playScript(page, SLOPPY.slice(0, 4));
    await plug(page, false);
    await page.getByText('The keyboard is gone.').waitFor();
    await plug(page, true);
    await playScript(page, SLOPPY.slice(7));
    await page.keyboard.press('Escape');
    await page.getByRole('heading', { name: 'Long Pier' }).waitFor();
    const report: Report = JSON.parse(
      readFileSync(await saved(page, 'Save report as JSON', 'plug.json'), 'utf8'),
    );
    const played = report.slots.flatMap(({ note }) => (note === null ? [] : [note.midi]));
    expect(played).toEqual([62, 64, 65, 67, 65, 64, 62]);
    await context.close();
  });

  test('a host killed in mid-take has what was played; the next start offers it', async () => {
    const doomed = await startProgram();
    const { page, context } = await openPage({}, doomed);
    await startTake(page);
    await playScript(page, SLOPPY.slice(0, 6));
    await page.waitForTimeout(250);
    doomed.kill();
    await context.close();
    const next = await startProgram(doomed.dataFolder);
    const again = await openPage({}, next);
    await chooseChart(again.page, 'Long Pier');
    await again.page.getByRole('button', { name: /recovered/ }).click();
    await again.page.getByText('slots clean').first().waitFor();
    const report: Report = JSON.parse(
      readFileSync(await saved(again.page, 'Save report as JSON', 'rescued.json'), 'utf8'),
    );
    const played = report.slots.flatMap(({ note }) => (note === null ? [] : [note.midi]));
    expect(played).toEqual(SLOPPY.slice(0, 6).map(({ midi }) => midi));
    await again.context.close();
    await next.stop();
  });

  test('needs no mouse and no keyboard but the computer’s', async () => {
    const { page, context } = await openPage();
    await page.getByLabel('Search charts').focus();
    await page.keyboard.type('five buoys');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Five Buoys' }).waitFor();
    await page.keyboard.press('Tab');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Tab');
    await page.keyboard.press('ArrowDown');
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    const start = page.getByRole('button', { name: 'Start' });
    await expect
      .poll(() => start.evaluate((button) => button === document.activeElement))
      .toBe(true);
    expect(await page.getByText('thirds at 66').count()).toBe(1);
    await page.keyboard.press('Enter');
    await page.locator('.bar.current').waitFor();
    for (const key of ['KeyX', 'KeyC', 'KeyV']) await page.keyboard.press(key, { delay: 100 });
    await expect.poll(() => page.locator('.totals').textContent()).toMatch(/of \d+ slots clean/);
    await page.keyboard.press('Escape');
    await page.getByRole('heading', { name: 'Five Buoys' }).waitFor();
    await context.close();
  });
});

describe('bad input', () => {
  test('a file that is no take says what it is and what to do, on the screen where it was opened', async () => {
    const { page, context } = await openPage();
    const file = join(folder, 'song.mid');
    writeFileSync(file, 'ID3 this is another kind of file');
    await page.locator('input[type=file]').setInputFiles(file);
    await page.getByText('it looks like an MP3 sound file').waitFor();
    await context.close();
  });
});

describe.each(['light', 'dark'] as const)('in %s', (colorScheme) => {
  test('axe finds nothing to object to on any screen', async () => {
    const { page, context } = await openPage({ colorScheme });
    const check = async (screen: string) => {
      const { violations } = await new AxeBuilder({ page }).analyze();
      expect([screen, violations.map(({ id, nodes }) => [id, nodes[0]?.html])]).toEqual([
        screen,
        [],
      ]);
    };
    await chooseChart(page, 'Lantern Walk');
    await check('choose');
    await page.getByRole('button', { name: 'Play', exact: true }).click();
    await page.getByRole('button', { name: 'Start' }).waitFor();
    await check('play');
    await page.getByRole('button', { name: '← Charts' }).click();
    await page.getByRole('button', { name: 'late at seven' }).click();
    await page.getByText('slots clean').first().waitFor();
    await check('review');
    await context.close();
  });
});
