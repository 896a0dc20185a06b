/** What an example line costs to write, and what lines are made of beside improvised ones. */

import { parseChart, unrollForm } from '../../src/core/chart/index.ts';
import {
  type LineWish,
  SHAPE_DENSITIES,
  USUAL_SHAPE,
  writeLine,
} from '../../src/core/line/index.ts';
import { countedLines } from '../reference/line/counted-lines.ts';
import { FIGURE_ROWS } from '../reference/line/figure-rows.ts';
import { lineFigures } from '../reference/line/figures.ts';
import { SOLO_FIGURES } from '../reference/line/solo-figures.ts';
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

const WISH: Omit<LineWish, 'level' | 'choruses' | 'seed'> = {
  ...{ slotsPerBeat: null, swing: 1, startMidi: null, style: 'solo', direction: 0 },
  ...{ density: SHAPE_DENSITIES[USUAL_SHAPE], register: { lowestMidi: 60, highestMidi: 84 } },
};

function lineCost(effort: Effort): Measure {
  const bars = form(BARS);
  const figures = (['steps', 'thirds', 'leaps', 'free'] as const).flatMap((level) => {
    let seed = 0;
    const samples = timeRuns(effort === 'full' ? 40 : 10, () => {
      const written = writeLine(bars, { ...WISH, level, choruses: 1, seed: seed++ });
      if (!written.ok) throw new Error(`no line at ${level}`);
    });
    const spread = distribution(`at ${level}`, 'ms', samples);
    const aim = ['what feels immediate', IMMEDIATE_MS] as const;
    return [
      spread,
      ratio(`median at ${level}`, 'ms', ['median', spread.median], aim, 1),
      ratio(`p95 at ${level}`, 'ms', ['p95', spread.p95], aim, 1),
    ];
  });
  return {
    name: `a line of ${BARS} bars`,
    how: 'As solos go; written again and again in one process, each with another seed, after two to warm up.',
    figures,
  };
}

/** What is aimed at: an own rule. */
const AIM_256_MS = 1000;

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
      const written = writeLine(own, { ...WISH, level: 'leaps', choruses, seed: seed++ });
      if (!written.ok) throw new Error('no line');
    });
    return distribution(`${bars} bars × ${choruses}`, 'ms', samples);
  });
  const [short, , , long] = spreads;
  const perBar = (spread: typeof short, bars: number): number => (spread?.median ?? 0) / bars;
  return {
    name: 'longer lines',
    how: 'At leaps, as solos go, each time with another seed; medians of one process.',
    figures: [
      ...spreads,
      ratio('256 bars', 'ms', ['median', long?.median ?? 0], ['aim', AIM_256_MS], 1),
      ratio(
        'cost of a bar, 256 bars to 16',
        'ms',
        ['of 256', perBar(long, 256)],
        ['of 16', perBar(short, 16)],
      ),
    ],
  };
}

/** The farthest soloist from all others; see `solo-figures.ts`. */
const FARTHEST_SOLOIST = 0.07;

/** Each figure of lines of a style beside that of solos. */
function madeOf(level: LineWish['level'], style: LineWish['style'], effort: Effort): Measure {
  const lines = countedLines({ level, style, density: WISH.density }, effort === 'full' ? 3 : 1);
  const bars = lines.reduce((sum, { form: own }) => sum + own.bars.length, 0);
  const counted = lineFigures(lines);
  const figures = FIGURE_ROWS.flatMap(([figure, words, kind]) => {
    const inSolos = figure === 'divergence' ? FARTHEST_SOLOIST : SOLO_FIGURES[figure];
    if (inSolos === null) return [];
    const times = kind === 'percent' ? 100 : 1;
    const name = figure === 'divergence' ? 'the farthest soloist' : 'solos';
    return ratio(
      `${words}, ${level}, ${style}`,
      kind === 'percent' ? '%' : '',
      ['lines', times * counted[figure]],
      [name, times * inSolos],
      figure === 'divergence' && level === 'leaps' && style === 'solo' ? 1 : null,
    );
  });
  return {
    name: `what lines are made of: ${level}, ${style}`,
    how: `${bars} bars of the program's charts and of progressions made by chance, beside 456 annotated solos (Weimar Jazz Database, "Inside the Jazzomat", 2017).`,
    figures,
  };
}

export const linesBench: Bench = {
  title: 'Lines',
  about:
    'A line should be there when the button comes up again: within 100 ms. What lines are made of stands beside improvised ones, which are no aim but for the intervals.',
  run: async (effort) => [
    lineCost(effort),
    growth(effort),
    ...(['steps', 'thirds', 'leaps'] as const).flatMap((level) =>
      (['solo', 'teaching'] as const).map((style) => madeOf(level, style, effort)),
    ),
  ],
};
