/** What a player sees and hears, in real Chromium: painted verdicts and clicks; and memory over hours. */

import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import type { Browser } from 'playwright';
import { buildWhenStale } from '../../scripts/build-when-stale.mjs';
import { ensureChromium } from '../../scripts/ensure-chromium.mjs';
import type { Bridge } from '../../shared/bridge/index.ts';
import { layLine } from '../../src/renderer/chart-page/line-model.ts';
import { createLiveDrawing } from '../../src/renderer/chart-page/live-drawing.ts';
import { startLiveTake } from '../../src/renderer/session/live-take.ts';
import { openBrowser } from '../e2e/start-program.ts';
import { keyboardNamed, PAGE_CLOCK } from '../helpers/page-clock.ts';
import { setUpFor } from '../helpers/set-up.ts';
import { type Bench, type Measure, type Ratio, ratio } from './bench.ts';
import type { ClickPlaces } from './click-page.ts';
import { yardstick } from './long-file.ts';
import { BENCH_FORM } from './long-take.ts';
import { pageBundle } from './page-bundle.ts';
import { paintedVerdicts } from './painted-verdict.ts';

async function clicks(browser: Browser): Promise<Measure> {
  const code = await pageBundle('click-page.ts', 'clickPage');
  const page = await browser.newPage();
  await page.addScriptTag({ content: code });
  const figures: Ratio[] = [];
  for (const tempoBpm of [61.7, 137.3]) {
    const places = await page.evaluate(async (tempo) => {
      const { clickPage } = window as unknown as {
        clickPage: {
          renderClicks(rate: number, minutes: number, tempo: number): Promise<ClickPlaces>;
        };
      };
      return clickPage.renderClicks(44_100, 30, tempo);
    }, tempoBpm);
    figures.push(
      ratio(
        `not on their sample at ${tempoBpm}`,
        'clicks',
        ['displaced', places.displaced],
        ['all', places.clicks],
        0,
      ),
    );
  }
  await page.close();
  return {
    name: 'thirty minutes of clicks',
    how: 'Rendered offline by the browser at 44.1 kHz; each click’s first sample is looked for where it should be.',
    figures,
  };
}

const TAKE_MS = 5 * 60_000;

/** Takes of five minutes at eight notes a second through session, journal and drawing. */
async function memory(takes: number): Promise<Measure> {
  setFlagsFromString('--expose-gc');
  const collect: unknown = runInNewContext('gc');
  const heapMb = (): number => {
    if (typeof collect === 'function') collect();
    return process.memoryUsage().heapUsed / 1e6;
  };
  const bridge = createStoringBridge();
  const setUp = setUpFor();
  let settledMb = Number.NaN;
  for (let take = 0; take < takes; take++) {
    const live = startLiveTake(
      bridge,
      `take ${take}`,
      BENCH_FORM,
      setUp,
      keyboardNamed,
      PAGE_CLOCK,
    );
    const draw = createLiveDrawing(layLine(BENCH_FORM, setUp.grade));
    for (let atMs = 0; atMs < TAKE_MS; atMs += 125) {
      live.key({ kind: 'noteOn', atMs, midi: 60 + ((atMs / 125) % 12), velocity: 80 }, 'Piano');
      live.key({ kind: 'noteOff', atMs: atMs + 100, midi: 60 + ((atMs / 125) % 12) }, 'Piano');
      live.tick(atMs + 100);
      const verdicts = live.snapshot();
      draw(verdicts, verdicts.settled.at(-1)?.chorus ?? 1);
    }
    live.end(TAKE_MS);
    await live.handIn();
    if (take === 1) settledMb = heapMb();
  }
  const minutes = takes * 5;
  return {
    name: `heap over ${minutes} simulated minutes`,
    how: `${takes} takes of five minutes at eight notes a second; measured after a collection.`,
    figures: [
      ratio(
        'heap at the end',
        'MB',
        [`after ${minutes} minutes`, heapMb()],
        ['after ten', settledMb],
      ),
    ],
  };
}

/** A host that counts what it is sent, as one that stores it would. */
function createStoringBridge(): Pick<Bridge, 'ask'> {
  let stored = 0;
  const ask = (async (name: string, request: { events?: readonly unknown[] }) => {
    if (name === 'takes.finish') stored = 0;
    stored += request.events?.length ?? 0;
    return { ok: true, value: { stored } };
  }) as unknown as Bridge['ask'];
  return { ask };
}

export const screenBench: Bench = {
  title: 'Screen',
  about:
    'A verdict should be painted within one 60 Hz frame of the MIDI event, also on a machine four times slower. A frame that comes less than about 50 ms after the one before has to wait for the display, up to 16.7 ms; any other comes at once. A bare page beside it shows what the browser itself takes on this machine. No click may be off its sample. Two hours of playing should leave memory as it was.',
  async run(effort) {
    if (effort === 'short') return [await memory(6)];
    ensureChromium();
    buildWhenStale();
    const browser = await openBrowser();
    try {
      return [
        yardstick(),
        ...(await paintedVerdicts(browser)),
        await clicks(browser),
        await memory(24),
      ];
    } finally {
      await browser.close();
    }
  },
};
