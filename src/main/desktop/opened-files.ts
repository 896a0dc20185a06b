/** Files a player hands to the program: read here, told to the page by name and content, never by path. */

import { open } from 'node:fs/promises';
import { basename, extname, resolve } from 'node:path';
import type { Push } from '../../../shared/bridge/index.ts';
import { READ_WITHOUT_WAITING } from '../read-flags.ts';

/** What the program opens, without the dots. Charts were once saved as `.chart`. */
export const OPENED_ENDINGS: readonly string[] = ['changes', 'chart', 'linekeeper', 'mid', 'midi'];

/** Two hundred hours of playing, or any chart; more than this is another kind of file. */
export const LARGEST_FILE_BYTES = 16 * 1024 * 1024;

export type OpenedFile =
  | { readonly ok: true; readonly push: Push }
  | { readonly ok: false; readonly sentence: string };

/** The files among the words of a command line, as full paths. */
export function filesInArguments(
  argv: readonly string[],
  workingFolder: string,
): readonly string[] {
  return argv
    .filter((word) => !word.startsWith('-') && isOpened(word))
    .map((path) => resolve(workingFolder, path));
}

export function isOpened(path: string): boolean {
  return OPENED_ENDINGS.includes(extname(path).slice(1).toLowerCase());
}

/** Reads a file to be told to the page. */
export async function readOpenedFile(path: string): Promise<OpenedFile> {
  const name = basename(path);
  try {
    const file = await open(path, READ_WITHOUT_WAITING);
    try {
      const stat = await file.stat();
      if (!stat.isFile()) return failed(`${name} is no plain file. Give a chart or a take.`);
      if (stat.size > LARGEST_FILE_BYTES) {
        const mebibytes = LARGEST_FILE_BYTES / 1024 / 1024;
        return failed(`${name} is larger than ${mebibytes} MiB. It is no chart and no take.`);
      }
      const bytes = await file.readFile();
      return { ok: true, push: { kind: 'file', name, base64: bytes.toString('base64') } };
    } finally {
      await file.close();
    }
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    return failed(`${name} could not be read (${why}). Check that it is there and yours to read.`);
  }
}

function failed(sentence: string): OpenedFile {
  return { ok: false, sentence };
}
