/** How a practice stands, in words. */

import type { Due } from '../spacing/index.ts';
import type { HeldTempos, Standing } from './standing.ts';

/** Which tempo holds or has held, beside the goal, in one sentence. */
export function describeHeld({ holdsBpm, heldBpm, goalBpm }: HeldTempos): string {
  const goal = goalBpm === null ? 'no goal is set' : `the goal is ${goalBpm}`;
  if (holdsBpm !== null) return `Holds at ${holdsBpm}; ${goal}.`;
  return heldBpm === null
    ? `No tempo holds yet; ${goal}.`
    : `Has held at ${heldBpm}, not shown in the last month; ${goal}.`;
}

/** Due for longer than this it has gone stale; what spacing lets rest has not. Own rule. */
const STALE_DAYS = 14;

/** When it is due, in one sentence. */
export function describeDue({ inDays }: Pick<Due, 'inDays'>): string {
  if (inDays > 1) return `Due again in ${inDays} days.`;
  if (inDays === 1) return 'Due again tomorrow.';
  if (inDays === 0) return 'Due today.';
  const since = inDays === -1 ? 'since yesterday' : `for ${-inDays} days`;
  return inDays < -STALE_DAYS ? `It has gone stale: due ${since}.` : `Due ${since}.`;
}

/** Three short sentences: which tempo holds, when it was played last, and when it is due. */
export function describeStanding(standing: Standing): string {
  const { presentBpm, daysSince, due } = standing;
  const last = `Last played at ${presentBpm}, ${daysAgo(daysSince)}.`;
  return `${describeHeld(standing)} ${last} ${describeDue(due)}`;
}

/** What `holds` means, for the foot of a page. Source: `grading.md`, "Ready for a faster tempo". */
export const HOLDS_WORDS =
  'A tempo holds when its takes of the last 30 days meet every condition of a raise.';

/** `today`, `yesterday`, `3 days ago`. */
export function daysAgo(days: number): string {
  if (days < 1) return 'today';
  return days === 1 ? 'yesterday' : `${days} days ago`;
}
