/** `npm run bench`: runs every piece and prints its figures; `--json` prints them as one object. */

import { parseArgs } from 'node:util';
import type { Bench } from './bench.ts';
import { engineBench } from './engine.ts';
import { filesBench } from './files.ts';
import { fuzzBench } from './fuzz.ts';
import { midiStressBench } from './midi-stress.ts';
import { prepareBench } from './prepare.ts';
import { screenBench } from './screen.ts';

const BENCHES: readonly Bench[] = [
  engineBench,
  filesBench,
  prepareBench,
  screenBench,
  fuzzBench,
  midiStressBench,
];

const { values: options, positionals } = parseArgs({
  options: { json: { type: 'boolean', default: false } },
  allowPositionals: true,
});

function wanted(bench: Bench): boolean {
  const title = bench.title.toLowerCase();
  if (positionals.length === 0) return bench.isLong !== true;
  return positionals.some((word) => title.includes(word.toLowerCase()));
}

const results = [];
for (const bench of BENCHES.filter(wanted)) {
  process.stderr.write(`${bench.title} …\n`);
  results.push({ title: bench.title, about: bench.about, measures: await bench.run() });
}

if (options.json) {
  process.stdout.write(`${JSON.stringify({ schema: 'linekeeper.bench/1', results })}\n`);
} else {
  for (const { title, about, measures } of results) {
    process.stdout.write(`\n${title}\n${about}\n`);
    for (const { name, unit, values } of measures) {
      process.stdout.write(`  ${name} (${unit})\n`);
      for (const [label, value] of Object.entries(values)) {
        process.stdout.write(`    ${label.padEnd(34)} ${value.toPrecision(4)}\n`);
      }
    }
  }
}
