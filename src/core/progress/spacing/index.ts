/** When to come back to a practice. The door to this folder. */

export { type Due, dueOf, LONGEST_REST_DAYS, type Resting } from './due.ts';
export { DAY_RATINGS, type DayRating, type Memory, memoryOf, type RatedDay } from './memory.ts';
export { type DayTempoRating, type RatedTempo, rateDays, rateTempos } from './rate-days.ts';
