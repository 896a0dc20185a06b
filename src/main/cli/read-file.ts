/** Reading a file with bounds: what cannot be read is a problem with a remedy, never an exception. */

import { closeSync, fstatSync, openSync, readFileSync } from 'node:fs';
import { failure, type Outcome, success, type TextProblem } from '../../core/problem.ts';
import { READ_WITHOUT_WAITING } from '../read-flags.ts';

export type FileProblemCode =
  | 'fileMissing'
  | 'fileRefused'
  | 'notAFile'
  | 'fileTooLarge'
  | 'notUtf8';

/** A file no chart or list of ours comes near; larger ones are something else given by mistake. */
export const MAX_TEXT_BYTES = 1024 * 1024;

function fileProblem(
  code: FileProblemCode,
  read: string,
  expected: string,
): TextProblem<FileProblemCode> {
  return { code, line: 1, column: 1, read, expected, suggestion: null };
}

/**
 * Reads a whole UTF-8 text file of at most `maxBytes`; the byte order mark, if any, is left out.
 * Problems: `fileMissing`, `fileRefused` (permissions and other system errors), `notAFile`, `fileTooLarge`,
 * `notUtf8`. All of them are placed at line 1, column 1.
 */
export function readTextFile(
  path: string,
  maxBytes: number = MAX_TEXT_BYTES,
): Outcome<string, TextProblem<FileProblemCode>> {
  const bytes = readFileBytes(path, maxBytes);
  return bytes.ok ? decodeUtf8(bytes.value) : bytes;
}

/** The bytes of a file of at most `maxBytes`. Problems: as of `readTextFile` but for `notUtf8`. */
export function readFileBytes(
  path: string,
  maxBytes: number,
): Outcome<Uint8Array, TextProblem<FileProblemCode>> {
  try {
    return readBounded(path, maxBytes);
  } catch (error) {
    return failure(systemProblem(error));
  }
}

function readBounded(
  path: string,
  maxBytes: number,
): Outcome<Uint8Array, TextProblem<FileProblemCode>> {
  const file = openSync(path, READ_WITHOUT_WAITING);
  try {
    const stat = fstatSync(file);
    if (!stat.isFile()) {
      const kind = stat.isDirectory() ? 'a folder' : 'no ordinary file';
      return failure(fileProblem('notAFile', kind, 'a file'));
    }
    if (stat.size > maxBytes) {
      const expected = `a file of at most ${maxBytes} bytes`;
      return failure(fileProblem('fileTooLarge', `${stat.size} bytes`, expected));
    }
    return success(readFileSync(file));
  } finally {
    closeSync(file);
  }
}

function decodeUtf8(bytes: Uint8Array): Outcome<string, TextProblem<FileProblemCode>> {
  try {
    return success(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    const expected = 'plain text in UTF-8; save the file again with that encoding';
    return failure(fileProblem('notUtf8', 'bytes that are not UTF-8', expected));
  }
}

function systemProblem(error: unknown): TextProblem<FileProblemCode> {
  const code = error instanceof Error && 'code' in error ? String(error.code) : 'unknown error';
  if (code === 'ENOENT' || code === 'ENOTDIR') {
    return fileProblem('fileMissing', 'no such file', 'the path of a file that exists');
  }
  return fileProblem('fileRefused', code, 'a file this user may read');
}
