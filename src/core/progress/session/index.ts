/** What to play today. The door to this folder. */

export { BREAK_MINUTES, LONGEST_STRETCH_MINUTES } from './breaks.ts';
export type { Material, SessionChart } from './candidates.ts';
export { lockedItems, lockItem, moveItem, skipItem, unlockItem } from './edit.ts';
export {
  type BreakItem,
  type Candidate,
  type ItemKind,
  isPlayed,
  type Play,
  type PlayItem,
  type Session,
  type SessionItem,
  type Why,
} from './model.ts';
export { proposeSession, type SessionWish } from './propose.ts';
export { describeItem } from './sentences.ts';
export { type StartTempo, startTempoBpm } from './start-tempo.ts';
