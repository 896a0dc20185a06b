/** What the end-to-end tests share: pages of one program, charts, takes, what is saved and graded again. */

import { mkdtempSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, type BrowserContext, type Cookie, chromium, type Page } from 'playwright';
import { afterAll, beforeAll, inject } from 'vitest';
import type { Report } from '../../src/core/grading/index.ts';
import { gradeHere } from '../helpers/command-here.ts';
import { giveControlledTime, holdTime, letTimeFlow, until } from './controlled-time.ts';
import { giveFakeMidi, type ScriptedKey } from './fake-keyboard.ts';
import { type Program, startProgram, watch } from './start-program.ts';

export const root = join(import.meta.dirname, '..', '..');
export const folder = mkdtempSync(join(tmpdir(), 'e2e-'));

export interface OpenedPage {
  readonly page: Page;
  readonly context: BrowserContext;
  readonly seen: ReturnType<typeof watch>;
  /** Hands the page on to the next test of the file, which loads it anew: that is a third of what a new one takes. */
  readonly done: () => void;
}

/** An address is good for one visit: what it gave is kept. */
const cookiesOf = new WeakMap<Program, readonly Cookie[]>();

/** What a page waits for comes at its own pace on a busy machine. */
const PATIENCE_MS = 90_000;

/** Starts a program for the tests of a file; what it answers opens pages of its own. */
export function withProgram(socketsFile: string | null = null) {
  let browser: Browser;
  let started: Promise<Program> | null = null;
  /** Pages of that program that tests are done with. */
  let idle: OpenedPage[] = [];
  beforeAll(async () => {
    browser = await chromium.connect(inject('browserAddress'));
  });
  afterAll(async () => {
    await browser.close();
    await (await started)?.stop();
    started = null;
    idle = [];
  });
  /**
   * A page with a session of its own in the browser, or one that another test is done with; all of a program share the
   * cookie it gave to the first.
   */
  return async function openPage(
    options: Parameters<Browser['newContext']>[0] | null = null,
    other: Program | null = null,
  ): Promise<OpenedPage> {
    started ??= other === null ? startProgram(undefined, socketsFile) : null;
    const of = other ?? (await started);
    if (of === null) throw new Error('no program');
    const free = other === null && options === null ? idle.pop() : undefined;
    if (free !== undefined) {
      await loadAnew(free);
      return free;
    }
    const context = await browser.newContext(options ?? {});
    context.setDefaultTimeout(PATIENCE_MS);
    await giveControlledTime(context);
    await giveFakeMidi(context);
    const page = await context.newPage();
    const seen = watch(page);
    const cookies = cookiesOf.get(of);
    if (cookies !== undefined) await context.addCookies(cookies);
    await page.goto(cookies === undefined ? of.url : new URL('/', of.url).href);
    await page.getByRole('heading', { name: 'Linekeeper' }).waitFor();
    if (cookies === undefined) cookiesOf.set(of, await context.cookies());
    const opened: OpenedPage = {
      ...{ page, context, seen },
      done: () => void (other === null && options === null && idle.push(opened)),
    };
    return opened;
  };
}

/** Loads a page as if nothing had been done with it. */
async function loadAnew({ page, seen }: OpenedPage): Promise<void> {
  await letTimeFlow(page);
  await page.emulateMedia({ media: null, colorScheme: null });
  for (const told of [seen.errors, seen.foreign]) told.length = 0;
  await page.goto(new URL('/', page.url()).href);
  await page.getByRole('heading', { name: 'Linekeeper' }).waitFor();
}

export async function chooseChart(page: Page, title: string): Promise<void> {
  await page.getByRole('button', { name: title, exact: true }).click();
  await page.getByRole('heading', { name: title }).waitFor();
}

/** Saves with a button of the review screen and reads what was saved. */
export async function saved(page: Page, button: string, name: string): Promise<string> {
  const [download] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: button }).click(),
  ]);
  const path = join(folder, name);
  await download.saveAs(path);
  return path;
}

export async function savedReport(page: Page, name: string): Promise<Report> {
  return JSON.parse(readFileSync(await saved(page, 'Save report as JSON', name), 'utf8'));
}

/** What the grade command finds in a file. */
export function gradeAgain(midiFile: string, chart: string, ...options: readonly string[]): Report {
  const { code, out, err } = gradeHere(midiFile, '--chart', chart, '--json', ...options);
  if (code !== 0) throw new Error(err);
  return JSON.parse(out);
}

export function verdicts(report: Report) {
  return {
    slots: report.slots.map(({ note, faults, marks }) => [note?.midi ?? null, faults, marks]),
    changes: report.changes.map(({ slot, arrival, bySlots }) => [slot, arrival, bySlots]),
    clean: report.summary.clean,
  };
}

/** Eighths at 120: five clean by step, one left out, one late, one outside, then on. */
export const SLOPPY: readonly (ScriptedKey & { readonly slot: number })[] = [
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

/** Starts a take on Long Pier at 120: its count-in comes as time is let pass. */
export async function startTake(page: Page): Promise<void> {
  await chooseChart(page, 'Long Pier');
  await page.getByLabel('Tempo', { exact: true }).fill('120');
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await start(page);
}

/** Waits for the keyboard on the play screen and presses Start, with time held from here on. */
export async function start(page: Page): Promise<void> {
  await page.getByText('Listening to Stage piano').waitFor();
  await pressStart(page);
}

/** Presses Start, with time held from here on. */
export async function pressStart(page: Page): Promise<void> {
  await holdTime(page);
  await page.getByRole('button', { name: 'Start' }).click();
}

/** Ends the take under way and waits for its review; from here on time flows again. */
export async function stopTake(page: Page): Promise<void> {
  await page.keyboard.press('Escape');
  await until(page, page.getByRole('button', { name: 'Save as MIDI' }));
  await letTimeFlow(page);
}
