/** Reading and grading a MIDI file, beside merely parsing it with the fastest general-purpose parser. */

import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseMidi } from 'midi-file';
import { gradeTake } from '../../src/core/grading/index.ts';
import {
  decodeSmf,
  describeSmfProblem,
  type ReadTake,
  takeFromSmf,
} from '../../src/core/take/smf/index.ts';
import { type Bench, distribution, type Effort, type Measure, median, ratio } from './bench.ts';
import { fileOf, once } from './long-file.ts';
import { BENCH_FORM, BENCH_TEMPO } from './long-take.ts';

const SETTINGS = { level: 'thirds', tempo: BENCH_TEMPO } as const;
const NOTES = 100_000;

function read(bytes: Uint8Array): ReadTake {
  const file = decodeSmf(bytes);
  const take = file.ok ? takeFromSmf(file.value, null) : file;
  if (!take.ok) throw new Error(take.problems.map(describeSmfProblem).join('\n'));
  return take.value;
}

/** The three works take turns, so that a busy machine slows all of them alike. */
function againstParser(rounds: number): Measure {
  const bytes = fileOf(NOTES);
  const { take } = read(bytes);
  const works = {
    parse: () => parseMidi(bytes),
    read: () => read(bytes),
    grade: () => gradeTake(BENCH_FORM, take, SETTINGS),
  };
  const samplesMs = { parse: [] as number[], read: [] as number[], grade: [] as number[] };
  for (let round = 0; round < rounds + 3; round++) {
    for (const name of ['parse', 'read', 'grade'] as const) {
      const startMs = performance.now();
      works[name]();
      if (round >= 3) samplesMs[name].push(performance.now() - startMs);
    }
  }
  const { parse, read: reading, grade } = samplesMs;
  return {
    name: `${NOTES} notes, warm`,
    how: `Parsing with midi-file, reading and grading take turns over the same bytes in one process; medians of ${rounds} turns.`,
    figures: [
      ...againstParsing(median(parse), median(reading) + median(grade), median(grade)),
      distribution('grading, report included', 'ms', grade),
    ],
  };
}

function againstParsing(parseMs: number, allMs: number, gradeMs: number) {
  const parsing = ['midi-file parses', parseMs] as const;
  return [
    ratio('reading and grading against parsing', 'ms', ['we read and grade', allMs], parsing, 3),
    ratio('grading against parsing', 'ms', ['we grade', gradeMs], parsing, 1),
  ];
}

const WORKS = ['parse', 'slots', 'grade', 'all'] as const;

function cold(folder: string): Measure {
  const file = join(folder, 'long.mid');
  writeFileSync(file, fileOf(NOTES));
  const samples: Record<(typeof WORKS)[number], number[]> = {
    parse: [],
    slots: [],
    grade: [],
    all: [],
  };
  for (let round = 0; round < 5; round++) {
    for (const work of WORKS) samples[work].push(once(work, file).ms);
  }
  return {
    name: `${NOTES} notes, first run in a fresh process`,
    how: 'Each work once in a process of its own, in turns; medians of five. A report holds an object for each slot and each note; making these alone, with nothing graded, is the least that grading can cost.',
    figures: [
      ...againstParsing(median(samples.parse), median(samples.all), median(samples.grade)),
      ratio(
        'making the slots of a report against parsing',
        'ms',
        ['bare slots', median(samples.slots)],
        ['midi-file parses', median(samples.parse)],
      ),
    ],
  };
}

function growth(folder: string): Measure {
  const growing = (notes: number) => {
    const file = join(folder, `${notes}.mid`);
    writeFileSync(file, fileOf(notes));
    const runs = [0, 1, 2].map(() => once('all', file));
    return {
      perNoteNs: (median(runs.map(({ ms }) => ms)) * 1e6) / notes,
      peakMb: median(runs.map(({ peakMb }) => peakMb)),
    };
  };
  const few = growing(10_000);
  const many = growing(1_000_000);
  return {
    name: 'a file of a million notes against one of ten thousand',
    how: 'Reading and grading, each in a fresh process; medians of three. Memory is the largest the process had, Node included.',
    figures: [
      ratio(
        'cost per note',
        'ns',
        ['of a million', many.perNoteNs],
        ['of ten thousand', few.perNoteNs],
      ),
      ratio('peak memory', 'MB', ['a million', many.peakMb], ['ten thousand', few.peakMb]),
    ],
  };
}

function hostile(): Measure {
  const header = [0x4d, 0x54, 0x68, 0x64, 0, 0, 0, 6, 0, 0, 0, 1, 0, 96, 0x4d, 0x54, 0x72, 0x6b];
  const size = 15_900_000;
  const running = new Uint8Array(size + 22).fill(0x40);
  running.set([...header, size >>> 24, (size >>> 16) & 255, (size >>> 8) & 255, size & 255]);
  running.set([0, 0x90], 22);
  const claims = Uint8Array.of(...header, 255, 255, 255, 255);
  const timed = (bytes: Uint8Array): number => {
    const startMs = performance.now();
    const file = decodeSmf(bytes);
    if (file.ok) takeFromSmf(file.value, null);
    return performance.now() - startMs;
  };
  const honest = fileOf(NOTES);
  const honestMs = timed(honest) / honest.length;
  return {
    name: 'hostile files',
    how: `Read once each, beside an honest file of ${NOTES} notes.`,
    figures: [
      ratio(
        'endless running status of 16 MB, cost per byte',
        'ns',
        ['hostile', (timed(running) * 1e6) / running.length],
        ['honest', honestMs * 1e6],
      ),
      ratio(
        'a track that claims 4 GB, whole cost',
        'ms',
        ['hostile', timed(claims)],
        ['honest', honestMs * honest.length],
      ),
    ],
  };
}

export const filesBench: Bench = {
  title: 'Files',
  about:
    'Ratios compare with merely parsing the same bytes with midi-file. Aims: read + grade at most 3, grade alone at most 1. Cost per note should not grow with length.',
  async run(effort: Effort) {
    if (effort === 'short') return [againstParser(5)];
    const folder = mkdtempSync(join(tmpdir(), 'bench-'));
    const measures = [cold(folder), againstParser(15), growth(folder), hostile()];
    rmSync(folder, { recursive: true });
    return measures;
  },
};
