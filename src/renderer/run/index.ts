/** A run, from Start to the review: its statechart, and the effects that make it sound, listen and store. */

export type { RunMeans } from './effects/means.ts';
export type { PlayedTake } from './effects/taking.ts';
export { type Practice, type RunSnapshot, type RunState, stateOf } from './machine.ts';
export { inNextKey } from './next-key.ts';
export { type Run, startRun } from './start-run.ts';
export { isSignal } from './start-signal.ts';
export { startSignalWords, stopSignalWords, toldWords } from './words.ts';
