/** The map of a chart: what has been played over it, and what never was. The door to this folder. */

export { LEAST_CLEAN_RATE, type MappedTakes, mapTakes, type TakeForMap } from './chart-map.ts';
export { countNotes, mapOfReport } from './count.ts';
export type { Feature } from './features.ts';
export { type Finding, LEAST_CROSSINGS, LEAST_NOTES } from './holes.ts';
export { MAP_SCHEMA, mapJson } from './map-json.ts';
export type * from './model.ts';
export type { Stretch } from './stretches.ts';
export { addMaps, longestRun, notesOn, timesPlayed, total } from './sum.ts';
