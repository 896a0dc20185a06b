/** Where a form breaks most, and how such a place is drilled. The door to this folder. */

export {
  type BarRange,
  type Drill,
  type DrillState,
  drillOf,
  drillState,
  drillTempoBpm,
  lastBarOf,
  type RangeTake,
} from './drill.ts';
export { isSurelyWeak, rankPlaces, type WeakPlace, weakestPlace } from './rank.ts';
export { describeBars, describeDrill, describePlace } from './sentences.ts';
export { type PlaceCause, type RankedPlace, weakPlaces } from './weak-places.ts';
