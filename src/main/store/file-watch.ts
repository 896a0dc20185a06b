/**
 * Whether the library's file is still where it was opened. On most systems a file that was deleted or moved away can be
 * written on, and everything in it is gone when the program ends: what is stored must then not be called stored.
 */

import { statSync } from 'node:fs';
import { refusal, StoreError } from './store-error.ts';

/** Answers a check that throws a `StoreError` from the moment on at which another file, or none, is at the path. */
export function watchFile(file: string): () => void {
  const opened = statSync(file).ino;
  return () => {
    if (statSync(file, { throwIfNoEntry: false })?.ino === opened) return;
    throw new StoreError(refusal('libraryGone', { kind: 'libraryGone', file }));
  };
}
