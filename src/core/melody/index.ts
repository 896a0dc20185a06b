/** Melodies of charts: kept over written bars, fitted to the chart as it is now, laid out as notes. */

export {
  describeMisfit as describeMelodyMisfit,
  fitMelody,
  type MelodyMisfit,
} from './fit-melody.ts';
export { barStarts, melodyBars } from './melody-bars.ts';
export { bareBars, melodyMeasures, playedBars, writtenOrder } from './melody-measures.ts';
export type { Melody, MelodyBar, MelodySound } from './model.ts';
