/** From what stands on the command line to takes: files, and the MIDI files in folders. */

import { closeSync, fstatSync, openSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { failure, type Outcome, success } from '../../core/problem.ts';
import {
  decodeSmf,
  describeSmfProblem,
  LARGEST_SMF_BYTES,
  type ReadTake,
  takeFromSmf,
} from '../../core/take/smf/index.ts';
import { READ_WITHOUT_WAITING } from '../read-flags.ts';

/** Why a take could not be read, in one sentence or two. */
export interface TakeFileProblem {
  readonly file: string;
  readonly sentence: string;
}

export interface TakeFile extends ReadTake {
  readonly file: string;
  readonly modifiedAtMs: number;
}

/** The files meant: folders are replaced by the MIDI files directly in them, sorted by name. */
export function listTakeFiles(paths: readonly string[]): {
  readonly files: readonly string[];
  readonly problems: readonly TakeFileProblem[];
} {
  const files: string[] = [];
  const problems: TakeFileProblem[] = [];
  for (const path of paths) {
    try {
      if (!statSync(path).isDirectory()) {
        files.push(path);
        continue;
      }
      const inside = readdirSync(path)
        .filter((name) => /\.midi?$/i.test(name))
        .sort();
      if (inside.length === 0) {
        const sentence = 'This folder holds no MIDI files (.mid). Give the folder they are in.';
        problems.push({ file: path, sentence });
      }
      files.push(...inside.map((name) => join(path, name)));
    } catch (error) {
      problems.push({ file: path, sentence: systemSentence(error) });
    }
  }
  return { files, problems };
}

/** Reads one take. `startMs` null lets the file say where its first downbeat is. */
export function readTakeFile(
  file: string,
  startMs: number | null,
): Outcome<TakeFile, TakeFileProblem> {
  const bytes = readBytes(file);
  if (!bytes.ok) return bytes;
  const smf = decodeSmf(bytes.value.bytes);
  const read = smf.ok ? takeFromSmf(smf.value, startMs) : smf;
  if (!read.ok) {
    return failure(
      ...read.problems.map((problem) => ({ file, sentence: describeSmfProblem(problem) })),
    );
  }
  return success({ ...read.value, file, modifiedAtMs: bytes.value.modifiedAtMs });
}

function readBytes(
  file: string,
): Outcome<{ readonly bytes: Uint8Array; readonly modifiedAtMs: number }, TakeFileProblem> {
  try {
    const handle = openSync(file, READ_WITHOUT_WAITING);
    try {
      const stat = fstatSync(handle);
      if (!stat.isFile()) return failure({ file, sentence: 'This is no file. Give a .mid file.' });
      // A file over the limit is refused by its size, before it is read.
      const tooLarge = stat.size > LARGEST_SMF_BYTES;
      const bytes = tooLarge ? new Uint8Array(LARGEST_SMF_BYTES + 1) : readFileSync(handle);
      return success({ bytes, modifiedAtMs: stat.mtimeMs });
    } finally {
      closeSync(handle);
    }
  } catch (error) {
    return failure({ file, sentence: systemSentence(error) });
  }
}

function systemSentence(error: unknown): string {
  const code = error instanceof Error && 'code' in error ? String(error.code) : 'unknown error';
  if (code === 'ENOENT' || code === 'ENOTDIR') {
    return 'There is no such file or folder. Check the path.';
  }
  return `The system refused to read it (${code}). Check that you may read it.`;
}
