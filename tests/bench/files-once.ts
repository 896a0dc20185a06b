/** One work of the files bench, once, in a process of its own. Prints its milliseconds and the largest memory it had, in MB. */

import { readFileSync } from 'node:fs';
import { parseMidi } from 'midi-file';
import { gradeTake, type ReportSlot } from '../../src/core/grading/index.ts';
import { decodeSmf, takeFromSmf } from '../../src/core/take/smf/index.ts';
import { BENCH_FORM, BENCH_TEMPO, longTake } from './long-take.ts';

const [work, file] = process.argv.slice(2);
const bytes = readFileSync(file ?? '');
const settings = { level: 'thirds', tempo: BENCH_TEMPO } as const;
const prepared = work === 'grade' ? longTake(100_000) : null;

const NONE: readonly [] = [];

/** A slot as a report holds it, of numbers that are at hand: what is left of grading when nothing is graded. */
function bareSlot(index: number): ReportSlot {
  const nominalMs = index * 250.5;
  const onsetMs = nominalMs + 3.25;
  return {
    index,
    chorus: 1,
    bar: 1,
    beat: 1,
    sub: 0,
    chord: 'C',
    palette: 'C ionian',
    nominalMs,
    note: {
      midi: 60,
      name: 'C4',
      onsetMs,
      deviationMs: onsetMs - nominalMs,
      velocity: 64,
      durationMs: nominalMs / 7,
    },
    judged: true,
    faults: NONE,
    marks: NONE,
  };
}

const startMs = performance.now();
if (work === 'parse') parseMidi(bytes);
else if (work === 'slots') Array.from({ length: 100_000 }, (_, index) => bareSlot(index));
else if (prepared !== null) gradeTake(BENCH_FORM, prepared, settings);
else {
  const smf = decodeSmf(bytes);
  const read = smf.ok ? takeFromSmf(smf.value, null) : smf;
  if (read.ok) gradeTake(BENCH_FORM, read.value.take, settings);
}
const ms = performance.now() - startMs;
process.stdout.write(`${ms} ${process.resourceUsage().maxRSS / 1024}`);
