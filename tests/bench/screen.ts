/** What a player sees and hears, in real Chromium: painted verdicts and clicks; and memory over hours. */

import { join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import type { Browser, Page } from 'playwright';
import { build } from 'vite';
import { buildWhenStale } from '../../scripts/build-when-stale.mjs';
import { ensureChromium } from '../../scripts/ensure-chromium.mjs';
import type { Bridge } from '../../shared/bridge/index.ts';
import { layLine } from '../../src/renderer/chart-page/line-model.ts';
import { createLiveDrawing } from '../../src/renderer/chart-page/live-drawing.ts';
import { startLiveTake } from '../../src/renderer/session/live-take.ts';
import { giveFakeMidi } from '../e2e/fake-keyboard.ts';
import { openBrowser, startProgram } from '../e2e/start-program.ts';
import { setUpFor } from '../helpers/set-up.ts';
import { type Bench, distribution, type Measure, type Ratio, ratio } from './bench.ts';
import type { ClickPlaces } from './click-page.ts';
import { BENCH_FORM, randomNumbers } from './long-take.ts';

const FRAME_MS = 1000 / 60;

const LONG_CHART = `title: Sixty-four bars
key: C
meter: 4/4
tempo: 240

[A]
${'| Dm7 | G7 | Cmaj7 | A7 |\n'.repeat(16)}`;

/** Sixteen notes a second: four slots to the beat at 240. */
const NOTE_EVERY_MS = 62.5;
const NOTES = 480;

/** How far from its time a note of a player who is no clock falls, at most, to either side. Invented. */
const SPREAD_MS = 15;

/** When each note falls after the start. */
function noteTimes(spreadMs: number): readonly number[] {
  const chance = randomNumbers(3);
  return Array.from(
    { length: NOTES },
    (_, note) => spreadMs + note * NOTE_EVERY_MS + (2 * chance() - 1) * spreadMs,
  );
}

interface PaintedNote {
  /** From the event until the verdict was painted. */
  readonly ms: number;
  /** Frames begun from the event until then: 1 is the first there was. */
  readonly frames: number;
}

/** Plays through the long chart and gives, for each note, when its verdict was painted. */
async function paintedAfter(page: Page, spreadMs: number): Promise<readonly PaintedNote[]> {
  return page.evaluate(
    async ({ times, holdMs }) => {
      const { keyboard } = window as unknown as { keyboard: { emit(bytes: number[]): void } };
      const waiting: { ms: number; frame: number }[] = [];
      const samples: { ms: number; frames: number }[] = [];
      // What a frame callback changes is painted with that frame; what is changed between frames, with the next.
      let inFrame = false;
      let frame = 0;
      let frameMs = -1;
      const { port1, port2 } = new MessageChannel();
      const afterPaint: (() => void)[] = [];
      port1.onmessage = () => {
        inFrame = false;
        for (const told of afterPaint.splice(0)) told();
      };
      const nextFrame = window.requestAnimationFrame.bind(window);
      window.requestAnimationFrame = (callback) =>
        nextFrame((nowMs) => {
          inFrame = true;
          // All callbacks of one frame are given the same time.
          if (nowMs !== frameMs) frame++;
          frameMs = nowMs;
          port2.postMessage(null);
          callback(nowMs);
        });
      const observer = new MutationObserver((changes) => {
        const drawn = changes.some(({ target }) => target instanceof SVGElement);
        if (!drawn || waiting.length === 0) return;
        const emitted = waiting.splice(0);
        const note = (): void => {
          const paintedMs = performance.now();
          samples.push(
            ...emitted.map((at) => ({ ms: paintedMs - at.ms, frames: frame - at.frame })),
          );
        };
        if (inFrame) afterPaint.push(note);
        else window.requestAnimationFrame(() => afterPaint.push(note));
      });
      observer.observe(document.querySelector('.chart') ?? document.body, {
        childList: true,
        attributes: true,
        subtree: true,
      });
      const startMs = performance.now();
      for (const [note, time] of times.entries()) {
        const atMs = startMs + time;
        await new Promise((resolve) => setTimeout(resolve, Math.max(0, atMs - performance.now())));
        const midi = 60 + (note % 12);
        waiting.push({ ms: performance.now(), frame });
        keyboard.emit([0x90, midi, 80]);
        setTimeout(() => keyboard.emit([0x80, midi, 0]), holdMs);
      }
      await new Promise((resolve) => setTimeout(resolve, 300));
      observer.disconnect();
      return samples;
    },
    { times: noteTimes(spreadMs), holdMs: NOTE_EVERY_MS * 0.5 },
  );
}

async function paintLatency(
  browser: Browser,
  throttle: number,
  spreadMs: number,
): Promise<Measure> {
  const program = await startProgram();
  const context = await browser.newContext({ viewport: { width: 1440, height: 1000 } });
  await giveFakeMidi(context);
  const page = await context.newPage();
  await page.goto(program.url);
  await page
    .locator('input[type=file]')
    .first()
    .setInputFiles({
      name: 'long.chart',
      mimeType: 'text/plain',
      buffer: Buffer.from(LONG_CHART),
    });
  await page.getByRole('heading', { name: 'Sixty-four bars' }).waitFor();
  await page.getByText('Grid and rules').click();
  await page.getByLabel('Slots').selectOption('4 to the beat');
  await page
    .locator('label', { hasText: /^Level/ })
    .locator('select')
    .selectOption({ index: 2 });
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await page.getByText('Listening to Stage piano').waitFor();
  const session = await context.newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: throttle });
  await page.getByRole('button', { name: 'Start' }).click();
  await page.locator('.bar.current').waitFor();
  const notes = await paintedAfter(page, spreadMs);
  const samples = notes.map(({ ms }) => ms);
  await context.close();
  await program.stop();
  const spread = distribution('event to paint', 'ms', samples);
  return {
    name: `MIDI event to painted verdict, CPU ${throttle}× slower, notes up to ${spreadMs} ms off their time`,
    how: 'Sixteen notes a second through a chart of 64 bars; painted is when the frame that holds the verdict is done.',
    figures: [
      spread,
      ratio('p99 against a frame', 'ms', ['p99', spread.p99], ['a 60 Hz frame', FRAME_MS]),
      ratio(
        'not in the first frame there was',
        'notes',
        ['later', notes.filter(({ frames }) => frames !== 1).length],
        ['all', notes.length],
      ),
      ratio('verdicts not seen', 'notes', ['missed', NOTES - notes.length], ['played', NOTES], 0),
    ],
  };
}

async function clicks(browser: Browser): Promise<Measure> {
  const built = await build({
    configFile: false,
    logLevel: 'error',
    build: {
      write: false,
      lib: {
        entry: join(import.meta.dirname, 'click-page.ts'),
        formats: ['iife'],
        name: 'clickPage',
      },
    },
  });
  const [bundle] = Array.isArray(built) ? built : [built];
  const code = bundle !== undefined && 'output' in bundle ? bundle.output[0].code : '';
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
    const live = startLiveTake(bridge, `take ${take}`, BENCH_FORM, setUp, 0);
    const draw = createLiveDrawing(layLine(BENCH_FORM, setUp.grade));
    for (let atMs = 0; atMs < TAKE_MS; atMs += 125) {
      live.key({ kind: 'noteOn', atMs, midi: 60 + ((atMs / 125) % 12), velocity: 80 });
      live.key({ kind: 'noteOff', atMs: atMs + 100, midi: 60 + ((atMs / 125) % 12) });
      live.tick(atMs + 100);
      const verdicts = live.snapshot();
      draw(verdicts, verdicts.settled.at(-1)?.chorus ?? 1);
    }
    await live.end(TAKE_MS);
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
    'A verdict should be painted within one 60 Hz frame of the MIDI event, also on a machine four times slower. A frame that comes less than about 50 ms after the one before has to wait for the display, up to 16.7 ms; any other comes at once. No click may be off its sample. Two hours of playing should leave memory as it was.',
  async run(effort) {
    if (effort === 'short') return [await memory(6)];
    ensureChromium();
    buildWhenStale();
    const browser = await openBrowser();
    try {
      return [
        await paintLatency(browser, 1, 0),
        await paintLatency(browser, 1, SPREAD_MS),
        await paintLatency(browser, 4, 0),
        await clicks(browser),
        await memory(24),
      ];
    } finally {
      await browser.close();
    }
  },
};
