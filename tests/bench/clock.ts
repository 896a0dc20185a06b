/** The clock of what is heard, against simulated readings; the same as in `tests/renderer/clock`, many more of them. */

import { ensureChromium } from '../../scripts/ensure-chromium.mjs';
import { openBrowser } from '../e2e/start-program.ts';
import { falseJumps, troubledRun } from '../helpers/clock-simulation.ts';
import { type Bench, distribution, type Effort, type Measure, ratio } from './bench.ts';
import type { HeardFigures } from './heard-page.ts';
import { pageBundle } from './page-bundle.ts';

/** Readings are wrong by up to so much, ms: a good system, a usual one, one that tells its output in whole buffers. */
const JITTERS_MS = [0.1, 1, 5];

function measure(jitterMs: number, effort: Effort): Measure {
  const runs = effort === 'short' ? 6 : 60;
  const minutes = effort === 'short' ? 1 : 10;
  const hours = effort === 'short' ? 1 / 60 : 1;
  const seen = Array.from({ length: runs }, (_, index) =>
    troubledRun(index + 1, jitterMs, (index * 40) / runs),
  );
  let jumps = 0;
  for (let seed = 0; seed < (hours * 60) / minutes; seed++) {
    jumps += falseJumps(1000 + seed, jitterMs, minutes);
  }
  const spread = (name: string, samples: readonly number[]) => distribution(name, 'ms', samples);
  const flat = (of: 'firstMs' | 'settledMs') => seen.flatMap((run) => run[of]);
  return {
    name: `readings wrong by up to ${jitterMs} ms`,
    how: 'Read every 40 ms, one in a hundred late by 20 ms in the mean, drift within 200 ppm; a torn reading after the page was blocked for 300 ms, a shift of 40 ms for good, a stall of 300 ms.',
    figures: [
      spread('error, first ten seconds', flat('firstMs')),
      spread('error, settled', flat('settledMs')),
      spread(
        'worst error after a torn reading',
        seen.map((run) => run.worstAfterTornMs),
      ),
      spread(
        'shift doubted after',
        seen.map((run) => run.shiftDoubtedMs),
      ),
      spread(
        'shift decided after',
        seen.map((run) => run.shiftToldMs),
      ),
      spread(
        'stall doubted after',
        seen.map((run) => run.stallDoubtedMs),
      ),
      spread(
        'stall decided after its end',
        seen.map((run) => run.stallToldMs),
      ),
      ratio('false jumps', 'jumps an hour', ['jumps', jumps], ['hours', hours], 0),
    ],
  };
}

/** The same clock on a real one: Chromium's own audio, in real time. */
async function inChromium(): Promise<Measure> {
  ensureChromium();
  const browser = await openBrowser();
  const page = await browser.newPage();
  await page.addScriptTag({ content: await pageBundle('heard-page.ts', 'heardPage') });
  await page.mouse.click(5, 5);
  const figures = await page.evaluate(() => {
    const { heardPage } = window as unknown as {
      heardPage: { playThroughTrouble(): Promise<HeardFigures> };
    };
    return heardPage.playThroughTrouble();
  });
  await browser.close();
  return {
    name: 'in Chromium, in real time',
    how: 'Clicks for fifteen seconds on a page that is blocked for 350 ms twice a second; then the audio is suspended for 300 ms.',
    figures: [
      distribution('from what the browser says of its output', 'ms', figures.missesMs),
      ratio('doubts while nothing happens', 'doubts', ['told', figures.quietDoubts], ['run', 1], 0),
      ratio('breaks while nothing happens', 'breaks', ['told', figures.quietBreaks], ['run', 1], 0),
      ratio('breaks by the suspension', 'breaks', ['told', figures.breaks], ['suspensions', 1]),
      distribution('suspension doubted after', 'ms', [figures.doubtedMs]),
      distribution('suspension decided after its end', 'ms', [figures.decidedMs]),
    ],
  };
}

export const clockBench: Bench = {
  title: 'Clock',
  about: 'Page time against the time heard: errors, and how soon trouble is told.',
  async run(effort) {
    const simulated = JITTERS_MS.map((jitterMs) => measure(jitterMs, effort));
    return effort === 'short' ? simulated : [...simulated, await inChromium()];
  },
};
