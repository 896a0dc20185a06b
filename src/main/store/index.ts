/** The store: one library file, its backups and its repair. The only door to this folder. */

export { type Backups, createBackups, timeStamp } from './backups/index.ts';
export { type ChartOutline, type ChartOutlines, createChartOutlines } from './chart-outlines.ts';
export { civilTimeAt } from './civil-time.ts';
export { type Contents, type KeptTake, readContents } from './contents.ts';
export { asStored } from './event-codec.ts';
export { createFactReader } from './fact-rows.ts';
export { watchFile } from './file-watch.ts';
export { DamageError, openDamaged } from './inspect.ts';
export { createLibrary, type Library, type StoredChart } from './library.ts';
export { type Incoming, mergeContents, packTake } from './merge/index.ts';
export { openLibrary } from './open-store.ts';
export { createPracticeJournal, type PracticeJournal } from './practice-journal.ts';
export {
  beginNewLibrary,
  type FoundBackups,
  findSoundBackup,
  finishPutInPlace,
  libraryFile,
  refuseEmptied,
  restoreBackup,
} from './repair/index.ts';
export { errorAt, plainRefusal, refusal, refusalOf, StoreError } from './store-error.ts';
export { createTakeFacts } from './take-facts.ts';
export { createChordReader } from './take-row.ts';
export {
  type BesideEvents,
  createTakeStore,
  type FinishedBy,
  LARGEST_SET_BACK_MS,
  type Recorded,
  type TakeName,
  type TakeStore,
} from './takes.ts';
export { makeFolder, publishFile } from './whole-file.ts';
