/** What the progress screen asks of years of practice. */

import {
  type PlayedTake,
  practicesOf,
  type TakeEvidence,
  weakestPlace,
} from '../../src/core/progress/index.ts';
import { type Bench, distribution, type Effort, type Measure, ratio, timeRuns } from './bench.ts';
import { randomNumbers } from './long-take.ts';

const FRAME_MS = 1000 / 60;
const DAY_MS = 86_400_000;
const NOW_MS = 1_800_000_000_000;
const CHARTS = 40;
const BARS = 32;

/** Invented takes over invented charts, eight a day back from now; tempos and faults drift. */
function history(takes: number): readonly PlayedTake[] {
  const random = randomNumbers(11);
  return Array.from({ length: takes }, (_, index): PlayedTake => {
    const chart = Math.floor(random() ** 2 * CHARTS);
    return {
      takeId: `take ${index}`,
      chartId: `chart ${chart}`,
      chartTitle: `Chart ${chart}`,
      plan: random() < 0.8 ? 'plain' : 'side door',
      key: random() < 0.7 ? 'C' : 'Eb',
      level: random() < 0.6 ? 'steps' : 'thirds',
      tempoBpm: 60 + 4 * Math.floor(random() * 10),
      day: Math.floor(NOW_MS / DAY_MS - index / 8),
      evidence: evidence(NOW_MS - (index / 8) * DAY_MS, random),
    };
  });
}

function evidence(playedAtMs: number, random: () => number): TakeEvidence {
  const bars = Array.from({ length: BARS }, (_, bar) => ({
    bar: bar + 1,
    slots: 16,
    clean: 16 - Math.floor(random() ** 3 * 6),
  }));
  const late = Math.floor(random() * 6);
  return {
    ...{ playedAtMs, choruses: 2, bars, slots: BARS * 16, changesCounted: 40 },
    changesOnTime: 40 - late,
    changesUnproven: 0,
    changesLeftOut: 0,
    clean: bars.reduce((sum, { clean }) => sum + clean, 0),
    lateChanges: Array.from({ length: late }, () => ({
      ...{ bar: 1 + Math.floor(random() * BARS), beat: 1, toChord: 'G7' },
    })),
  };
}

function queries(effort: Effort): Measure {
  const [few, many] = [1000, 10_000] as const;
  const runs = effort === 'full' ? 25 : 7;
  const timed = [few, many].map((takes) => {
    const all = history(takes);
    return timeRuns(runs, () => {
      const practices = practicesOf(all, NOW_MS);
      for (const { present } of practices) {
        weakestPlace(present.takes.flatMap(({ evidence: { bars } }) => bars));
      }
    });
  });
  const [fewMs = [], manyMs = []] = timed;
  const spread = distribution(`${many} takes`, 'ms', manyMs);
  const short = distribution(`${few} takes`, 'ms', fewMs);
  return {
    name: 'practices, their tempos, readiness and weakest places',
    how: `Takes of ${BARS} bars over ${CHARTS} charts, eight a day, sorted and judged as the progress screen does; medians of ${runs} runs.`,
    figures: [
      ...[short, spread],
      ratio(
        `${many} takes against a frame`,
        'ms',
        ['median', spread.median],
        ['a 60 Hz frame', FRAME_MS],
      ),
      ratio(
        'cost per take, long history against short',
        'µs',
        [`of ${many}`, (spread.median * 1000) / many],
        [`of ${few}`, (short.median * 1000) / few],
      ),
    ],
  };
}

export const progressBench: Bench = {
  title: 'Progress',
  about:
    'Three and a half years of eight takes a day should be judged within a few frames, and the cost of a take should not grow with the history.',
  run: async (effort) => [queries(effort)],
};
