/** Answers what the progress screens ask, from every take of the library. The door to this folder. */

export { createCounting } from './counting.ts';
export { createGoalBook } from './goals.ts';
export { createHistory } from './history.ts';
export { createProgressHandlers, type ProgressParts } from './progress-handlers.ts';
