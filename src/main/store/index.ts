/** The store: one library file. The only door to this folder. */

export { createLibrary, type Library, type StoredChart } from './library.ts';
export { openLibrary } from './open-store.ts';
export { refusal, refusalOf, StoreError } from './store-error.ts';
export { createTakeStore, type TakeStore } from './takes.ts';
