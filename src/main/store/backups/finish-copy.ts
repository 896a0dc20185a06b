/**
 * Makes a copy of the library one file and checks it, on a thread of its own: reading years of practice through takes
 * long, and meanwhile what is played has to reach the disk.
 */

import { Worker } from 'node:worker_threads';
import { DamageError, damageOf } from '../inspect.ts';

/** Plain text, so that both hosts run it however they are built. */
const WORK = `
const { DatabaseSync } = require('node:sqlite');
const { parentPort, workerData } = require('node:worker_threads');
try {
  const copy = new DatabaseSync(workerData);
  try {
    copy.exec('PRAGMA locking_mode = EXCLUSIVE; PRAGMA journal_mode = DELETE;');
    const found = copy.prepare('PRAGMA quick_check(1)').get();
    parentPort.postMessage({ found: String(found.quick_check) });
  } finally {
    copy.close();
  }
} catch (error) {
  parentPort.postMessage({ message: error.message, errcode: error.errcode });
}
`;

type Told =
  | { readonly found: string }
  | { readonly message: string; readonly errcode: number | undefined };

/** Throws a `DamageError` for a copy that is not sound, and what SQLite throws for one that cannot be finished. */
export async function finishCopy(file: string): Promise<void> {
  const told = await work(file);
  if ('found' in told) {
    if (told.found !== 'ok') throw new DamageError('pagesTorn');
    return;
  }
  const error = Object.assign(new Error(told.message), { errcode: told.errcode });
  throw damageOf(error) ?? error;
}

function work(file: string): Promise<Told> {
  const worker = new Worker(WORK, { eval: true, workerData: file });
  return new Promise((resolve, reject) => {
    let told: Told | null = null;
    worker.on('message', (message: Told) => {
      told = message;
    });
    worker.on('error', reject);
    // The copy is closed only when the thread has ended.
    worker.on('exit', () => {
      if (told === null) reject(new Error('the check of the copy broke off'));
      else resolve(told);
    });
  });
}
