/** The page of figures, docs/figures.md: every kind of ratio that has an aim, in one table. */

import type { Figure } from './bench.ts';
import { type BenchDocument, short } from './document.ts';

type Ratio = Extract<Figure, { readonly kind: 'ratio' }>;

interface Row {
  readonly part: string;
  readonly measure: string;
  readonly ratio: Ratio;
  readonly aim: number;
}

const HOW_TO_READ = `Each row is a **ratio** of two amounts measured in the same run, so that it means much the same on any machine, and the aim it
should not exceed. Where a ratio was taken in several ways, the one that comes nearest to its aim, or misses it by most, stands here.

\`npm run bench\` measures again and prints everything, distributions too (\`-- engine\` a part, \`-- --json\` as data, schema
\`linekeeper.bench/2\`); \`npm run figures\` measures everything and writes this page, with its data in \`out/figures.json\`. \`npm test\`
prints a short slice. No test judges a time: a busy machine is no fault of the program.`;

/** The page. The same document gives the same page. */
export function figuresPage(document: BenchDocument): string {
  const { processors, processor, platform, node, load } = document.machine;
  const machineWords = `Measured on ${document.date}: ${processors} × ${processor}, ${platform}, Node ${node}; ${loadWords(load.before, load.after, processors)}.`;
  const table = [
    '| part | ratio | aim at most | measured | in |',
    '|---|---|---|---|---|',
    ...worstRatios(document).map(({ part, measure, ratio, aim }) => {
      const measured = ratio.value > aim ? `**${short(ratio.value)}**` : short(ratio.value);
      return `| ${part} | ${kindOf(ratio)} | ${short(aim)} | ${measured} | ${measure} |`;
    }),
  ];
  const missed = 'A figure in bold type misses its aim.';
  return `${['# Figures', HOW_TO_READ, machineWords, table.join('\n'), missed].join('\n\n')}\n`;
}

/** What a ratio is, without the circumstances that follow a comma. */
function kindOf({ name }: Ratio): string {
  return name.split(',')[0] ?? name;
}

/** Of each kind of ratio with an aim, in each part, the one that is worst beside its aim; in the order they were measured. */
export function worstRatios({ results }: BenchDocument): readonly Row[] {
  const worst = new Map<string, Row>();
  for (const { title: part, measures } of results) {
    for (const { name: measure, figures } of measures) {
      for (const ratio of figures) {
        if (ratio.kind !== 'ratio' || ratio.atMost === null) continue;
        const key = `${part} ${kindOf(ratio)}`;
        const before = worst.get(key);
        const row = { part, measure, ratio, aim: ratio.atMost };
        if (before === undefined || excess(row) > excess(before)) worst.set(key, row);
      }
    }
  }
  return [...worst.values()];
}

/** How far a ratio is above its aim, beside the aim itself; where the aim is none at all, how far above it. */
function excess({ ratio, aim }: Row): number {
  return aim === 0 ? ratio.value : (ratio.value - aim) / aim;
}

/** A busy machine widens every distribution: whoever reads the figures should know. */
function loadWords(before: number, after: number, processors: number): string {
  const wanted = `${short(before)} programs at the start and ${short(after)} at the end wanted them`;
  return Math.max(before, after) > processors
    ? `${wanted}, so that every time is longer and more spread than on a machine at rest`
    : wanted;
}
