/** How a practice stands, told once for every screen. The door to this folder. */

export { describeDue, describeHeld, describeStanding, HOLDS_WORDS } from './sentences.ts';
export { type HeldTempos, type Standing, standingOf, type TempoAdvice } from './standing.ts';
