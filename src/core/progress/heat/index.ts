/** Pictures over takes: counts by bar, rule, week, chord and change. The door to this folder. */

export { rulesByBars, weeksByBars } from './bars.ts';
export { changesByLateness } from './changes.ts';
export { chordsByRoots } from './chords.ts';
export { isOfFilter, type TakeFilter } from './filter.ts';
export type { HeatCell, HeatMatrix } from './matrix.ts';
