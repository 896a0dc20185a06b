/** Answers what the progress screens ask, from every take of the library. The door to this folder. */

export { createGoalBook } from './goals.ts';
export { createHistory, type History } from './history.ts';
export { createKeeper } from './keeper.ts';
export { createPracticeBook } from './practices.ts';
export { createProgressHandlers, type ProgressParts } from './progress-handlers.ts';
export { readAhead } from './read-ahead.ts';
