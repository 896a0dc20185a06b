/** How soon the program is there, and how much of it has to be fetched for that. */

import { spawnSync } from 'node:child_process';
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { gzipSync } from 'node:zlib';
import type { Page } from 'playwright';
import { buildWhenStale } from '../../scripts/build-when-stale.mjs';
import { ensureChromium } from '../../scripts/ensure-chromium.mjs';
import { startProgram } from '../e2e/start-program.ts';
import { type BareBrowser, openBareBrowser } from './bare-browser.ts';
import { type Bench, distribution, type Measure, median, ratio } from './bench.ts';

const root = join(import.meta.dirname, '..', '..');
const FIRST_SCREEN_MS = 1000;
const INITIAL_KB = 300;
/** How long a built command may take for a take, in times of Node doing nothing. */
const MOST_FOR_A_COMMAND = 3;
/** Linux counts a process's time in these. Source: `proc(5)`, with the usual clock of 100 ticks a second. */
const TICK_MS = 10;

/** The time of day by a clock that never goes back, as a page has it too; ms. */
function epochMs(): number {
  return performance.timeOrigin + performance.now();
}

/** When what is largest on the page was drawn, which the first screen is in one go; ms by the clock of `epochMs`. */
async function whenDrawn(page: Page): Promise<number> {
  await page.getByRole('button', { name: 'Play', exact: true }).waitFor();
  return page.evaluate(
    () =>
      new Promise<number>((resolve) => {
        new PerformanceObserver((list) => {
          const lastMs = Math.max(...list.getEntries().map(({ startTime }) => startTime));
          resolve(performance.timeOrigin + lastMs);
        }).observe({ type: 'largest-contentful-paint', buffered: true });
      }),
  );
}

/** Processor time a process has taken, in ms; 0 where the system does not tell it in this way. */
function processorMs(pid: number): number {
  try {
    const [, rest = ''] = readFileSync(`/proc/${pid}/stat`, 'utf8').split(') ');
    const fields = rest.split(' ').map(Number);
    return ((fields[11] ?? 0) + (fields[12] ?? 0)) * TICK_MS;
  } catch {
    return 0;
  }
}

async function firstScreen(browser: BareBrowser, runs: number): Promise<Measure> {
  const hostMs: number[] = [];
  const hostWorkMs: number[] = [];
  const pageMs: number[] = [];
  for (let run = 0; run <= runs; run++) {
    const startMs = epochMs();
    const program = await startProgram();
    const servedMs = epochMs();
    const workMs = processorMs(program.pid);
    const drawnMs = await browser.visit(program.url, whenDrawn);
    await program.stop();
    if (run === 0) continue;
    hostMs.push(servedMs - startMs);
    hostWorkMs.push(workMs);
    pageMs.push(drawnMs - servedMs);
  }
  const wholeMs = hostMs.map((ms, run) => ms + (pageMs[run] ?? 0));
  const whole = distribution('start to a chart ready to play', 'ms', wholeMs);
  return {
    name: 'first screen',
    how: `The browser host started on a new library and its page opened in a browser that runs and is not looked into; ${runs} starts after one to warm up.`,
    figures: [
      distribution('host, until it prints its address', 'ms', hostMs),
      distribution('page, until a chart is ready', 'ms', pageMs),
      distribution('processor time of the host until it prints its address', 'ms', hostWorkMs),
      whole,
      ratio('whole start', 'ms', ['median', whole.median], ['aim', FIRST_SCREEN_MS], 1),
    ],
  };
}

function pageSize(): Measure {
  const folder = join(root, 'out', 'renderer');
  const html = readFileSync(join(folder, 'index.html'), 'utf8');
  const initial = [...html.matchAll(/(?:src|href)="\.\/(assets\/[^"]+\.js)"/g)].map(
    ([, path]) => path ?? '',
  );
  const kbOf = (paths: readonly string[]): number =>
    paths.reduce((sum, path) => sum + gzipSync(readFileSync(join(folder, path))).length, 0) / 1000;
  const all = readdirSync(join(folder, 'assets')).filter((name) => name.endsWith('.js'));
  const initialKb = kbOf(initial);
  return {
    name: 'JavaScript, compressed',
    how: 'Each file of the built page through gzip; initial is what the page names before a screen is chosen.',
    figures: [
      ratio('initial', 'kB', ['initial', initialKb], ['aim', INITIAL_KB], 1),
      ratio(
        'initial of all screens',
        'kB',
        ['initial', initialKb],
        ['all', kbOf(all.map((name) => `assets/${name}`))],
      ),
    ],
  };
}

/** A command from its start to its answer, as it is built and from its sources, beside Node doing nothing. */
function command(runs: number): Measure {
  const take = join(root, 'shared', 'demo-takes', 'late-at-seven.mid');
  const chart = join(root, 'shared', 'charts', 'boiler-room-blues.chart');
  const timed = (words: readonly string[]): number => {
    const startMs = performance.now();
    const run = spawnSync(process.execPath, words, { encoding: 'utf8' });
    if (run.status !== 0) throw new Error(run.stderr);
    return performance.now() - startMs;
  };
  const words = [take, '--chart', chart];
  const built = [join(root, 'out', 'main', 'grade.cjs'), ...words];
  const sources = [join(root, 'src', 'main', 'grade.ts'), ...words];
  const samples = Array.from({ length: runs }, () => ({
    nothingMs: timed(['-e', '0']),
    builtMs: timed(built),
    sourcesMs: timed(sources),
  }));
  const nothingMs = median(samples.map((sample) => sample.nothingMs));
  const builtMs = samples.map((sample) => sample.builtMs);
  const sourcesMs = samples.map((sample) => sample.sourcesMs);
  return {
    name: 'the grade command on a demo take of 24 bars',
    how: `From its start to its end, in turns with Node doing nothing; ${runs} turns.`,
    figures: [
      distribution('whole command, built', 'ms', builtMs),
      distribution('whole command, from its sources', 'ms', sourcesMs),
      ratio(
        'built, against Node alone',
        'ms',
        ['command', median(builtMs)],
        ['Node doing nothing', nothingMs],
        MOST_FOR_A_COMMAND,
      ),
      ratio(
        'from its sources, against Node alone',
        'ms',
        ['command', median(sourcesMs)],
        ['Node doing nothing', nothingMs],
      ),
    ],
  };
}

export const startBench: Bench = {
  title: 'Start',
  about:
    'The first screen should be there within a second, and the page should fetch less than 300 kB of compressed JavaScript for it.',
  async run(effort) {
    const runs = effort === 'full' ? 15 : 4;
    ensureChromium();
    buildWhenStale();
    const browser = await openBareBrowser();
    try {
      return [await firstScreen(browser, runs), pageSize(), command(runs)];
    } finally {
      await browser.close();
    }
  },
};
