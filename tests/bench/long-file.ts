/** A MIDI file of very many notes, works on it in processes of their own, and by them how fast this machine is. */

import { spawnSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { encodeSmf, smfFromTake } from '../../src/core/take/smf/index.ts';
import { type Measure, median, ratio } from './bench.ts';
import { longTake } from './long-take.ts';

export function fileOf(notes: number): Uint8Array {
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

interface Once {
  readonly ms: number;
  readonly peakMb: number;
}

/** One work in a process of its own, as a command does it: nothing is warm. */
export function once(work: 'parse' | 'slots' | 'grade' | 'all', file: string): Once {
  const script = join(import.meta.dirname, 'files-once.ts');
  const run = spawnSync(process.execPath, [script, work, file], { encoding: 'utf8' });
  if (run.status !== 0) throw new Error(run.stderr);
  const [ms = Number.NaN, peakMb = Number.NaN] = run.stdout.split(' ').map(Number);
  return { ms, peakMb };
}

/** Milliseconds midi-file 1.2.4 took for 100,000 notes where the aims in ms were set. Measured once, on that machine. */
const PLANNED_MS = 45;

/** How fast this machine is beside the one the aims in ms are meant for. */
export function yardstick(): Measure {
  const folder = mkdtempSync(join(tmpdir(), 'bench-'));
  const file = join(folder, 'long.mid');
  writeFileSync(file, fileOf(100_000));
  const hereMs = median(Array.from({ length: 5 }, () => once('parse', file).ms));
  rmSync(folder, { recursive: true });
  return {
    name: 'this machine',
    how: 'What midi-file takes to parse 100,000 notes, in a process of its own; milliseconds below are as they were measured.',
    figures: [
      ratio('against the machine the aims are for', 'ms', ['here', hereMs], ['there', PLANNED_MS]),
    ],
  };
}
