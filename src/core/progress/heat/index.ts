/** Pictures over takes: counts by bar, rule, week, chord and change. The door to this folder. */

export { HEAT_RULES, type HeatRule, rulesByBars, weeksByBars } from './bars.ts';
export { changesByLateness, LATENESS, type Lateness } from './changes.ts';
export { chordsByRoots } from './chords.ts';
export { isOfFilter, type TakeFilter } from './filter.ts';
export type { HeatCell, HeatMatrix } from './matrix.ts';
