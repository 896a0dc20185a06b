/** Other readings of a take. The door to this folder. */

export { applyReading, type Graded } from './apply-reading.ts';
export { slotAxis } from './ground.ts';
export {
  isDoubting,
  type KeyReading,
  type LevelReading,
  type Reading,
  type ReadingDecision,
  type ReadingValue,
  type SlipReading,
  type SplitReading,
  type StartReading,
  type TimingReading,
  type TimingValue,
} from './model.ts';
export { type ReadTake, readTake } from './read-take.ts';
