/** What a player sees and hears, in real Chromium: painted verdicts, clicks, the first screen; and memory over hours. */

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { gzipSync } from 'node:zlib';
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
import { type Bench, type Measure, percentile } from './bench.ts';
import type { ClickPlaces } from './click-page.ts';
import { BENCH_FORM } from './long-take.ts';

const root = join(import.meta.dirname, '..', '..');
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

interface PaintedNote {
  /** From the event until the verdict was painted. */
  readonly ms: number;
  /** Frames begun from the event until then: 1 is the first there was. */
  readonly frames: number;
}

/** Plays through the long chart and gives, for each note, when its verdict was painted. */
async function paintedAfter(page: Page): Promise<readonly PaintedNote[]> {
  return page.evaluate(
    async ({ notes, everyMs }) => {
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
        const drawn = changes.some(({ addedNodes }) =>
          [...addedNodes].some((node) => node instanceof SVGElement),
        );
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
        subtree: true,
      });
      const startMs = performance.now();
      for (let note = 0; note < notes; note++) {
        const atMs = startMs + note * everyMs;
        await new Promise((resolve) => setTimeout(resolve, Math.max(0, atMs - performance.now())));
        const midi = 60 + (note % 12);
        waiting.push({ ms: performance.now(), frame });
        keyboard.emit([0x90, midi, 80]);
        setTimeout(() => keyboard.emit([0x80, midi, 0]), everyMs * 0.8);
      }
      await new Promise((resolve) => setTimeout(resolve, 300));
      observer.disconnect();
      return samples;
    },
    { notes: NOTES, everyMs: NOTE_EVERY_MS },
  );
}

async function paintLatency(browser: Browser, throttle: number): Promise<Measure> {
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
  const notes = await paintedAfter(page);
  const samples = notes.map(({ ms }) => ms);
  await context.close();
  await program.stop();
  const median = percentile(samples, 0.5);
  const p99 = percentile(samples, 0.99);
  return {
    name: `MIDI event to painted verdict, 16 notes a second, 64 bars, CPU ${throttle}× slower`,
    unit: 'ms',
    values: {
      median,
      p99,
      'one 60 Hz frame': FRAME_MS,
      'p99 / frame (ratio)': p99 / FRAME_MS,
      'in the first frame there was (share)':
        notes.filter(({ frames }) => frames === 1).length / notes.length,
      'notes seen': samples.length,
    },
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
  const values: Record<string, number> = {};
  for (const tempoBpm of [61.7, 137.3]) {
    const places = await page.evaluate(async (tempo) => {
      const { clickPage } = window as unknown as {
        clickPage: {
          renderClicks(rate: number, minutes: number, tempo: number): Promise<ClickPlaces>;
        };
      };
      return clickPage.renderClicks(44_100, 30, tempo);
    }, tempoBpm);
    values[`clicks at ${tempoBpm}`] = places.clicks;
    values[`not on their sample at ${tempoBpm}`] = places.displaced;
  }
  await page.close();
  return { name: 'thirty minutes of clicks, rendered at 44.1 kHz', unit: 'clicks', values };
}

async function firstScreen(browser: Browser): Promise<Measure> {
  const samples: number[] = [];
  for (let run = 0; run < 6; run++) {
    const startMs = performance.now();
    const program = await startProgram();
    const page = await browser.newPage();
    await page.goto(program.url);
    await page.getByRole('button', { name: 'Play', exact: true }).waitFor();
    if (run > 0) samples.push(performance.now() - startMs);
    await page.close();
    await program.stop();
  }
  return {
    name: 'start of the host to a chart ready to play, browser open',
    unit: 'ms',
    values: { median: percentile(samples, 0.5), slowest: Math.max(...samples), aim: 1000 },
  };
}

function pageSize(): Measure {
  const folder = join(root, 'out', 'renderer');
  const html = readFileSync(join(folder, 'index.html'), 'utf8');
  const initial = [...html.matchAll(/(?:src|href)="\.\/(assets\/[^"]+\.js)"/g)].map(
    ([, path]) => path ?? '',
  );
  const size = (paths: readonly string[]): number =>
    paths.reduce((sum, path) => sum + gzipSync(readFileSync(join(folder, path))).length, 0);
  const all = readdirSync(join(folder, 'assets')).filter((name) => name.endsWith('.js'));
  return {
    name: 'JavaScript, gzip',
    unit: 'kB',
    values: {
      initial: size(initial) / 1000,
      'all screens': size(all.map((name) => `assets/${name}`)) / 1000,
      'aim for the initial': 300,
    },
  };
}

const TAKES = 24;
const TAKE_MS = 5 * 60_000;

/** Two hours of takes at eight notes a second through session, journal and drawing; heap after each half hour. */
async function twoHours(): Promise<Measure> {
  setFlagsFromString('--expose-gc');
  const collect: unknown = runInNewContext('gc');
  const heapMb = (): number => {
    if (typeof collect === 'function') collect();
    return process.memoryUsage().heapUsed / 1e6;
  };
  const bridge = createStoringBridge();
  const setUp = setUpFor();
  const values: Record<string, number> = {};
  for (let take = 0; take < TAKES; take++) {
    const live = startLiveTake(bridge, `take ${take}`, BENCH_FORM, setUp, 0, () => {});
    const draw = createLiveDrawing(layLine(BENCH_FORM, setUp.grade));
    for (let atMs = 0; atMs < TAKE_MS; atMs += 125) {
      live.key({ kind: 'noteOn', atMs, midi: 60 + ((atMs / 125) % 12), velocity: 80 });
      live.key({ kind: 'noteOff', atMs: atMs + 100, midi: 60 + ((atMs / 125) % 12) });
      live.tick(atMs + 100);
      const verdicts = live.snapshot();
      draw(verdicts, verdicts.settled.at(-1)?.chorus ?? 1);
    }
    await live.end(TAKE_MS);
    if (take === 1) values['after ten minutes'] = heapMb();
    if ((take + 1) % 6 === 0) values[`after ${((take + 1) * 5) / 60} h`] = heapMb();
  }
  return { name: 'heap over two simulated hours (24 takes, 57 600 notes)', unit: 'MB', values };
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
    'A verdict should be painted with the first frame that begins after the MIDI event, also on a machine four times slower; waiting for that frame alone takes up to 16.7 ms, half of it on average. No click may be off its sample. Two hours of playing should leave memory as it was.',
  async run() {
    ensureChromium();
    buildWhenStale();
    const browser = await openBrowser();
    try {
      return [
        await paintLatency(browser, 1),
        await paintLatency(browser, 4),
        await clicks(browser),
        await firstScreen(browser),
        pageSize(),
        await twoHours(),
      ];
    } finally {
      await browser.close();
    }
  },
};
