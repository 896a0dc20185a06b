/** Other readings of a take. The door to this folder. */

export {
  isDoubting,
  type KeyReading,
  type LevelReading,
  type Reading,
  type ReadingDecision,
  type SlipReading,
  type SplitReading,
  type StartReading,
  type TimingReading,
  type TimingValue,
} from './model.ts';
