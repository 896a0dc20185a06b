/** What an example line costs to write. */

import { parseChart, unrollForm } from '../../src/core/chart/index.ts';
import { writeLine } from '../../src/core/line/index.ts';
import { type Bench, distribution, type Effort, type Measure, ratio, timeRuns } from './bench.ts';

const BARS = 32;
/** From here on an answer no longer feels immediate. Source: J. Nielsen, "Usability Engineering", 1993, ch. 5. */
const IMMEDIATE_MS = 100;

function form(bars: number) {
  const parsed = parseChart(
    `title: a\nkey: C\nmeter: 4/4\n\n[A]\n${'| Dm7 | G7 | Cmaj7 | Em7b5 A7b9 |\n'.repeat(bars / 4)}`,
  );
  const unrolled = parsed.ok ? unrollForm(parsed.value, 'plain') : parsed;
  if (!unrolled.ok) throw new Error('the chart of the bench does not read');
  return unrolled.value;
}

function lineCost(effort: Effort): Measure {
  const bars = form(BARS);
  const figures = (['steps', 'thirds', 'leaps', 'free'] as const).flatMap((level) => {
    let seed = 0;
    const samples = timeRuns(effort === 'full' ? 40 : 10, () => {
      const written = writeLine(bars, {
        ...{ level, choruses: 1, slotsPerBeat: null, swing: 1, density: 0.5, startMidi: null },
        register: { lowestMidi: 60, highestMidi: 84 },
        seed: seed++,
      });
      if (!written.ok) throw new Error(`no line at ${level}`);
    });
    const spread = distribution(`at ${level}`, 'ms', samples);
    const aim = ['what feels immediate', IMMEDIATE_MS] as const;
    return [spread, ratio(`median at ${level}`, 'ms', ['median', spread.median], aim, 1)];
  });
  return {
    name: `a line of ${BARS} bars`,
    how: 'Written again and again in one process, each with another seed, after two to warm up.',
    figures,
  };
}

/** What is aimed at. Source: the aims of the program's own plan. */
const AIM_32_MS = 50;
const AIM_64_BY_4_MS = 500;

/** How the cost grows with the length: bars × choruses. */
function growth(effort: Effort): Measure {
  const sizes = [
    [16, 1],
    [32, 1],
    [64, 1],
    [64, 4],
  ] as const;
  const spreads = sizes.map(([bars, choruses]) => {
    const own = form(bars);
    let seed = 0;
    const samples = timeRuns(effort === 'full' ? 20 : 5, () => {
      const written = writeLine(own, {
        ...{ level: 'thirds', choruses, slotsPerBeat: null, swing: 1, density: 0.5 },
        startMidi: null,
        register: { lowestMidi: 60, highestMidi: 84 },
        seed: seed++,
      });
      if (!written.ok) throw new Error('no line');
    });
    return distribution(`${bars} bars × ${choruses}`, 'ms', samples);
  });
  const [short, middle, , long] = spreads;
  const perBar = (spread: typeof short, bars: number): number => (spread?.median ?? 0) / bars;
  return {
    name: 'longer lines',
    how: 'At thirds, each time with another seed; medians of one process.',
    figures: [
      ...spreads,
      ratio('32 bars', 'ms', ['median', middle?.median ?? 0], ['aim', AIM_32_MS], 1),
      ratio('64 bars × 4', 'ms', ['median', long?.median ?? 0], ['aim', AIM_64_BY_4_MS], 1),
      ratio(
        'cost of a bar, 256 bars to 16',
        'ms',
        ['of 256', perBar(long, 256)],
        ['of 16', perBar(short, 16)],
      ),
    ],
  };
}

export const linesBench: Bench = {
  title: 'Lines',
  about: 'A line should be there when the button comes up again: within 100 ms.',
  run: async (effort) => [lineCost(effort), growth(effort)],
};
