export type { ArrivalCounts, ChordEvidence } from './chord-evidence.ts';
export { designEffectOf, effectiveInterval } from './clustering.ts';
export { DAY_MS, weekOf } from './days.ts';
export {
  type BarEvidence,
  type ChangeEvidence,
  evidenceOf,
  type TakeEvidence,
} from './evidence.ts';
export { type Figures, figuresOf } from './figures.ts';
export * from './gain/index.ts';
export * from './heat/index.ts';
export {
  holdsAtEnd,
  type KeptPractice,
  type LastTake,
  newestFirst,
  type PlayedTake,
  type Practice,
  practiceOf,
  practicesOf,
  type TempoRecord,
  temposOf,
} from './history.ts';
export * from './ladder/index.ts';
export type { Moment } from './moment.ts';
export {
  isSamePractice,
  nameOfPractice,
  type PracticeName,
  practiceId,
} from './practice-name.ts';
export {
  easedTempoBpm,
  judgeReadiness,
  type Obstacle,
  RAISE_CLEAN_RATE,
  RAISE_SLOTS,
  type ReadinessVerdict,
  raisedTempoBpm,
  WINDOW_DAYS,
  windowStartMs,
} from './readiness.ts';
export { describeChange, describeObstacle, describeReadiness } from './sentences.ts';
export * from './session/index.ts';
export * from './spacing/index.ts';
export * from './standing/index.ts';
export { tempoPlan } from './tempo-plan.ts';
export * from './weak-places/index.ts';
export { type RateInterval, wilsonInterval } from './wilson.ts';
