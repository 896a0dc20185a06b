/** What an example line costs to write. */

import { parseChart, unrollForm } from '../../src/core/chart/index.ts';
import { writeLine } from '../../src/core/line/index.ts';
import { type Bench, distribution, type Effort, type Measure, ratio, timeRuns } from './bench.ts';

const BARS = 32;
/** From here on an answer no longer feels immediate. Source: J. Nielsen, "Usability Engineering", 1993, ch. 5. */
const IMMEDIATE_MS = 100;

function form() {
  const parsed = parseChart(
    `title: a\nkey: C\nmeter: 4/4\n\n[A]\n${'| Dm7 | G7 | Cmaj7 | Em7b5 A7b9 |\n'.repeat(BARS / 4)}`,
  );
  const unrolled = parsed.ok ? unrollForm(parsed.value, 'plain') : parsed;
  if (!unrolled.ok) throw new Error('the chart of the bench does not read');
  return unrolled.value;
}

function lineCost(effort: Effort): Measure {
  const bars = form();
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

export const linesBench: Bench = {
  title: 'Lines',
  about: 'A line should be there when the button comes up again: within 100 ms.',
  run: async (effort) => [lineCost(effort)],
};
