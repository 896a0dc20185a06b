/** How soon a progress screen is there in real Chromium, after ten years of practice. */

import type { Locator, Page } from 'playwright';
import { buildWhenStale } from '../../scripts/build-when-stale.mjs';
import { ensureChromium } from '../../scripts/ensure-chromium.mjs';
import { openBrowser, startProgram } from '../e2e/start-program.ts';
import { newFolder } from '../helpers/library.ts';
import { type Bench, distribution, type Figure, type Measure, ratio } from './bench.ts';
import { yardstick } from './long-file.ts';
import { MANY_TAKES, makeLibrary } from './ten-years.ts';

/** Own aim. */
const AIM_MS = 300;
const RUNS = 7;
/** Ten for each door, pressed at once and by a hand. */
const STARTS = 60;
/** No hand presses sooner what its eye has just been shown. From memory: simple reactions take about a quarter of a second. */
const HAND_MS = 250;
/** After so long without a change a screen is taken for finished. */
const QUIET_MS = 600;

/**
 * Presses a button, or gives a field a value, and tells after how many ms the last of what follows was painted: the first
 * frame after the last change of the page before it stays quiet.
 */
function untilPainted(control: Locator, value: string | null): Promise<number> {
  return control.evaluate(
    async (element, [value, quietMs]) => {
      let paintedMs = Number.NaN;
      let quiet = 0;
      const { promise, resolve } = Promise.withResolvers<void>();
      const observer = new MutationObserver(() => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = () => {
          paintedMs = performance.now();
        };
        requestAnimationFrame(() => port2.postMessage(null));
        clearTimeout(quiet);
        quiet = window.setTimeout(resolve, quietMs);
      });
      const all = { subtree: true, childList: true, attributes: true, characterData: true };
      observer.observe(document.body, all);
      const startMs = performance.now();
      if (value === null) (element as HTMLElement).click();
      else {
        // Past React's own note of the value, as typing goes.
        const isSelect = element instanceof HTMLSelectElement;
        const { prototype } = isSelect ? HTMLSelectElement : HTMLInputElement;
        Object.getOwnPropertyDescriptor(prototype, 'value')?.set?.call(element, value);
        element.dispatchEvent(new Event(isSelect ? 'change' : 'input', { bubbles: true }));
      }
      await promise;
      observer.disconnect();
      return paintedMs - startMs;
    },
    [value, QUIET_MS] as const,
  );
}

type Action = readonly [name: string, control: (page: Page) => Locator, value: string | null];

const button =
  (name: string) =>
  (page: Page): Locator =>
    page.getByRole('button', { name, exact: true }).first();
const field =
  (name: string) =>
  (page: Page): Locator =>
    page
      .getByRole('region', { name: 'Where it breaks' })
      .getByRole('combobox', { name, exact: true });

const DOORS: readonly Action[] = [
  ['progress', button('Progress'), null],
  ['today', button('Today'), null],
  ['journal', button('Journal'), null],
];

/** A walk through the screens; each action changes something, and the last ones put it back. */
const WALK: readonly Action[] = [
  ...DOORS.slice(0, 1),
  [
    'a practice, its tempos and weak bars',
    (page) => page.locator('.practice summary').first(),
    null,
  ],
  [
    'another chart on the ladder',
    (page) => page.getByRole('combobox', { name: 'Chart', exact: true }),
    '1',
  ],
  ['heatmap of bars by weeks', field('Picture'), '1'],
  ['heatmap of chords by keys', field('Picture'), '2'],
  ['heatmap of changes', field('Picture'), '3'],
  ['heatmap of faults in each bar', field('Picture'), '0'],
  ['heatmap of another chart', field('Of chart'), '1'],
  ['heatmap of one level', field('Level'), '1'],
  ['heatmap of a shorter time', field('In'), '1'],
  ...DOORS.slice(1),
  ['journal, the month before', button('← Month before'), null],
  ['journal, found by a word', (page) => page.getByRole('searchbox'), 'Chart 7'],
  ['journal, all again', (page) => page.getByRole('searchbox'), ''],
  ['report for a teacher', button('Report for a teacher'), null],
];

type Told = Map<string, number[]>;

async function time(page: Page, [name, control, value]: Action, told: Told): Promise<void> {
  // Whoever types has come to the field before.
  if (value !== null) await control(page).focus();
  if (value !== null) await page.waitForTimeout(QUIET_MS);
  const ms = await untilPainted(control(page), value);
  told.set(name, [...(told.get(name) ?? []), ms]);
}

function measure(when: string, told: Told): Measure {
  return {
    name: `${MANY_TAKES} takes, ${when}`,
    how: 'From the press, or the word typed into a field come to half a second before, until the last change that follows it is painted, in one window of the browser host.',
    figures: [...told].flatMap(([name, ms]): Figure[] => {
      const spread = distribution(name, 'ms', ms);
      const aim = ['aim', AIM_MS] as const;
      return [spread, ratio(`${name} against the aim`, 'ms', ['median', spread.median], aim, 1)];
    }),
  };
}

export const progressScreenBench: Bench = {
  title: 'Progress on screen',
  about:
    'Ten years of practice: every progress screen within 300 ms of the key or click that asks for it.',
  isLong: true,
  async run(effort) {
    if (effort === 'short') return [];
    ensureChromium();
    buildWhenStale();
    const folder = newFolder();
    makeLibrary(folder, MANY_TAKES, Date.now());
    const browser = await openBrowser();
    const first: Told = new Map();
    const byHand: Told = new Map();
    const later: Told = new Map();
    for (let start = 0; start < STARTS; start++) {
      const program = await startProgram(folder);
      const page = await browser.newPage();
      await page.goto(program.url);
      await page.getByRole('button', { name: 'Play', exact: true }).waitFor();
      const door = DOORS[start % DOORS.length];
      const isByHand = start < STARTS / 2;
      if (isByHand) await page.waitForTimeout(HAND_MS);
      if (door !== undefined) await time(page, door, isByHand ? byHand : first);
      if (start === STARTS - 1) {
        for (let run = 0; run < RUNS; run++)
          for (const action of WALK) await time(page, action, later);
      }
      await page.close();
      await program.stop();
    }
    await browser.close();
    return [
      yardstick(),
      measure('in the moment the first screen is there', first),
      measure(`${HAND_MS} ms after the first screen`, byHand),
      measure('later', later),
    ];
  },
};
