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
export { type RateInterval, wilsonInterval } from './wilson.ts';
