export * from './gain/index.ts';
export { type PlayedTake, type Practice, practicesOf, type TempoRecord } from './history.ts';
export {
  type BarEvidence,
  type ChangeEvidence,
  easedTempoBpm,
  evidenceOf,
  judgeReadiness,
  type Obstacle,
  type ReadinessVerdict,
  raisedTempoBpm,
  type TakeEvidence,
} from './readiness.ts';
export { describeObstacle, describeReadiness } from './sentences.ts';
export * from './spacing/index.ts';
export { tempoPlan } from './tempo-plan.ts';
export { drillTempoBpm, type WeakPlace, weakestPlace } from './weak-place.ts';
export { type RateInterval, wilsonInterval } from './wilson.ts';
