/** Reading and grading a MIDI file, beside merely parsing it with the fastest general-purpose parser. */

import { spawnSync } from 'node:child_process';
import { mkdtempSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parseMidi } from 'midi-file';
import { gradeTake } from '../../src/core/grading/index.ts';
import {
  decodeSmf,
  describeSmfProblem,
  encodeSmf,
  type ReadTake,
  smfFromTake,
  takeFromSmf,
} from '../../src/core/take/smf/index.ts';
import { type Bench, type Measure, medianMs } from './bench.ts';
import { BENCH_FORM, BENCH_TEMPO, longTake } from './long-take.ts';

const SETTINGS = { level: 'thirds', tempo: BENCH_TEMPO } as const;
const ROUNDS = 15;

function fileOf(notes: number): Uint8Array {
  return encodeSmf(
    smfFromTake({
      take: longTake(notes),
      tempo: [{ atMs: 0, atQuarter: 0, msPerQuarter: 500 }],
      meter: { count: 4, unit: 4 },
      keyFifths: 0,
      minor: false,
      name: 'Bench',
      texts: [],
    }),
  );
}

function read(bytes: Uint8Array): ReadTake {
  const file = decodeSmf(bytes);
  const take = file.ok ? takeFromSmf(file.value, null) : file;
  if (!take.ok) throw new Error(take.problems.map(describeSmfProblem).join('\n'));
  return take.value;
}

/** The three works take turns, so that a busy machine slows all of them alike. */
function againstParser(): Measure {
  const bytes = fileOf(100_000);
  const { take } = read(bytes);
  const works = {
    parse: () => parseMidi(bytes),
    read: () => read(bytes),
    grade: () => gradeTake(BENCH_FORM, take, SETTINGS),
  };
  const samplesMs = { parse: [] as number[], read: [] as number[], grade: [] as number[] };
  for (let round = 0; round < ROUNDS + 3; round++) {
    for (const name of ['parse', 'read', 'grade'] as const) {
      const startMs = performance.now();
      works[name]();
      if (round >= 3) samplesMs[name].push(performance.now() - startMs);
    }
  }
  const parse = medianMs(samplesMs.parse);
  const reading = medianMs(samplesMs.read);
  const grading = medianMs(samplesMs.grade);
  return {
    name: '100 000 notes, medians of turns in one run',
    unit: 'ms, ratios as named',
    values: {
      'midi-file parses': parse,
      'we read': reading,
      'we grade, report included': grading,
      '(read + grade) / parse': (reading + grading) / parse,
      'grade / parse': grading / parse,
    },
  };
}

/** Each work once, in a process of its own, as a command does it: nothing is warm. */
function cold(): Measure {
  const folder = mkdtempSync(join(tmpdir(), 'bench-'));
  const file = join(folder, 'long.mid');
  writeFileSync(file, fileOf(100_000));
  const once = (work: string): number => {
    const script = join(import.meta.dirname, 'files-once.ts');
    const run = spawnSync(process.execPath, [script, work, file], { encoding: 'utf8' });
    if (run.status !== 0) throw new Error(run.stderr);
    return Number(run.stdout);
  };
  const samples = { parse: [] as number[], grade: [] as number[], all: [] as number[] };
  for (let round = 0; round < 5; round++) {
    for (const work of ['parse', 'grade', 'all'] as const) samples[work].push(once(work));
  }
  const parse = medianMs(samples.parse);
  return {
    name: '100 000 notes, first run in a fresh process',
    unit: 'ms, ratios as named',
    values: {
      'midi-file parses': parse,
      'we grade, report included': medianMs(samples.grade),
      'we read and grade': medianMs(samples.all),
      '(read + grade) / parse': medianMs(samples.all) / parse,
      'grade / parse': medianMs(samples.grade) / parse,
    },
  };
}

function growth(): Measure {
  const values: Record<string, number> = {};
  for (const notes of [10_000, 100_000, 1_000_000]) {
    const bytes = fileOf(notes);
    const samplesMs = [0, 1, 2].map(() => {
      const startMs = performance.now();
      gradeTake(BENCH_FORM, read(bytes).take, SETTINGS);
      return performance.now() - startMs;
    });
    values[`${notes} notes`] = (medianMs(samplesMs) * 1e6) / notes;
  }
  values['peak memory, MB'] = process.resourceUsage().maxRSS / 1024;
  return { name: 'reading and grading, per note; peak memory of the run', unit: 'ns/note', values };
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
  return {
    name: 'hostile files',
    unit: 'ms',
    values: { 'endless running status, 16 MB': timed(running), 'a claim of 4 GB': timed(claims) },
  };
}

export const filesBench: Bench = {
  title: 'Files',
  about:
    'Ratios compare with merely parsing the same bytes with midi-file. Aims: read + grade at most 3, grade alone at most 1. Cost per note should not grow with length.',
  run: async () => [cold(), againstParser(), growth(), hostile()],
};
