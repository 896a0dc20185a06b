/**
 * `npm run bench`: runs every piece and prints its figures; `--json` prints them as one document (`document.ts`), `--short`
 * takes a slice of less than a minute. Words pick pieces by title.
 */

import { cpus, loadavg } from 'node:os';
import { parseArgs } from 'node:util';
import type { Bench, Effort } from './bench.ts';
import { clockBench } from './clock.ts';
import { type BenchDocument, documentSchema, figureWords } from './document.ts';
import { engineBench } from './engine.ts';
import { faultsBench } from './faults.ts';
import { filesBench } from './files.ts';
import { fuzzBench } from './fuzz.ts';
import { lawsBench } from './laws.ts';
import { linesBench } from './lines.ts';
import { midiStressBench } from './midi-stress.ts';
import { prepareBench } from './prepare.ts';
import { progressBench } from './progress.ts';
import { progressScreenBench } from './progress-screen.ts';
import { readingsBench } from './readings.ts';
import { screenBench } from './screen.ts';
import { startBench } from './start.ts';
import { storeBench } from './store.ts';
import { verdictsBench } from './verdicts.ts';

const BENCHES: readonly Bench[] = [
  ...[engineBench, clockBench, filesBench, linesBench, progressBench, startBench],
  ...[
    prepareBench,
    screenBench,
    faultsBench,
    fuzzBench,
    lawsBench,
    midiStressBench,
    storeBench,
    progressScreenBench,
    readingsBench,
    verdictsBench,
  ],
];

const { values: options, positionals } = parseArgs({
  options: {
    json: { type: 'boolean', default: false },
    short: { type: 'boolean', default: false },
  },
  allowPositionals: true,
});
const effort: Effort = options.short ? 'short' : 'full';

function wanted(bench: Bench): boolean {
  const title = bench.title.toLowerCase();
  if (positionals.length === 0) return bench.isLong !== true;
  return positionals.some((word) => title.includes(word.toLowerCase()));
}

/** Over the last minute; always 0 on Windows, which does not count it. */
const loadNow = (): number => loadavg()[0] ?? 0;
const before = loadNow();
const results = [];
for (const bench of BENCHES.filter(wanted)) {
  if (!options.short) process.stderr.write(`${bench.title} …\n`);
  const measures = await bench.run(effort);
  if (measures.length > 0) results.push({ title: bench.title, about: bench.about, measures });
}

if (options.json) {
  const processors = cpus();
  const document = {
    schema: 'linekeeper.bench/2',
    date: new Date().toISOString().slice(0, 10),
    effort,
    machine: {
      node: process.version,
      platform: `${process.platform} ${process.arch}`,
      processors: processors.length,
      processor: processors[0]?.model.trim() ?? 'unknown',
      load: { before, after: loadNow() },
    },
    results,
  };
  process.stdout.write(`${JSON.stringify(documentSchema.parse(document), null, 1)}\n`);
} else {
  print(results);
}

function print(all: BenchDocument['results']): void {
  for (const { title, about, measures } of all) {
    process.stdout.write(options.short ? `${title}\n` : `\n${title}\n${about}\n`);
    for (const { name, figures } of measures) {
      process.stdout.write(`  ${name}\n`);
      for (const figure of figures) {
        const [what, howLarge] = figureWords(figure);
        process.stdout.write(`    ${what.padEnd(44)} ${howLarge}\n`);
      }
    }
  }
}
