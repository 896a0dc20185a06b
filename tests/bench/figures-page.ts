/** The latest figures as a page to read: docs/figures.md, made of docs/figures.json. */

import { type BenchDocument, figureWords, short } from './document.ts';

const HOW_TO_READ = `A **ratio** sets two amounts beside each other that were measured in the same run, so that it means much the same on any
machine; where something is aimed at, the aim follows. A **distribution** gives median, 95th and 99th percentile and the
largest of its samples, on the machine named below: read it for its shape, and measure your own for its size.

\`npm run bench\` measures again (\`-- engine\` a part, \`-- --json\` as data, schema \`linekeeper.bench/2\`); \`npm run figures\` measures
everything and writes this page, and \`npm run figures -- docs/figures.json\` writes it from figures kept. \`npm test\` prints a
short slice. No test judges a time: a busy machine is no fault of the program.`;

/** The page. The same document gives the same page. */
export function figuresPage({ date, machine, results }: BenchDocument): string {
  const { processors, processor, platform, node, load } = machine;
  const parts = results.map(({ title, about, measures }) => {
    const tables = measures.map(({ name, how, figures }) => {
      const rows = figures.map((figure) => `| ${figureWords(figure).join(' | ')} |`);
      return [`### ${name}`, '', how, '', '| figure | value |', '|---|---|', ...rows].join('\n');
    });
    return [`## ${title}`, about, ...tables].join('\n\n');
  });
  const machineWords = `Measured on ${date}: ${processors} × ${processor}, ${platform}, Node ${node}; ${loadWords(load.before, load.after, processors)}.`;
  return `${['# Figures', HOW_TO_READ, machineWords, ...parts].join('\n\n')}\n`;
}

/** A busy machine widens every distribution: whoever reads the figures should know. */
function loadWords(before: number, after: number, processors: number): string {
  const wanted = `${short(before)} programs at the start and ${short(after)} at the end wanted them`;
  return Math.max(before, after) > processors
    ? `${wanted}, so that every time is longer and more spread than on a machine at rest`
    : wanted;
}
