/** What to play today, in the minutes there are. */

import { fitItems, LEAST_ITEM_MINUTES, playableMinutes, totalMinutes } from './breaks.ts';
import { type Candidates, candidatesOf, type Material } from './candidates.ts';
import { goesAlong, mixOf } from './mix.ts';
import { type Candidate, isPlayed, type PlayItem, type Session } from './model.ts';

/** Minutes of one item where there is choice enough, and at most. Own rule. */
const ITEM_MINUTES = 5;
const LONGEST_ITEM_MINUTES = 10;

export interface SessionWish extends Material {
  /** Minutes there are, breaks included, a day at most; fractions are dropped. */
  readonly minutes: number;
  /** What is left today of a daily limit of playing; null without one. */
  readonly limitLeftMinutes: number | null;
  /** Items of an earlier proposal that stay, in their order, before what is new. */
  readonly locked: readonly PlayItem[];
  /** Ids of candidates that are not wanted today. */
  readonly skippedIds: readonly string[];
}

/**
 * Proposes a session. Its minutes, breaks included, sum to at most those there are, and its playing to the limit left; they
 * sum to less where there is not enough to play. The same wish gives the same session.
 */
export function proposeSession(wish: SessionWish): Session {
  const { locked, skippedIds } = wish;
  const minutes = wholeMinutes(wish.minutes);
  const playMinutes = wish.limitLeftMinutes === null ? null : wholeMinutes(wish.limitLeftMinutes);
  const lockedIds = locked.map(({ id }) => id);
  const left = playableMinutes(minutes, playMinutes) - totalMinutes(locked);
  const candidates = without(candidatesOf(wish), [...skippedIds, ...lockedIds]);
  const wanted = Math.round(left / ITEM_MINUTES) || (left >= LEAST_ITEM_MINUTES ? 1 : 0);
  const { chosen, spare } = mixOf(candidates, Math.max(0, wanted), locked);
  const items = fitItems([...locked, ...share(chosen, left)], { minutes, playMinutes, lockedIds });
  const ids = new Set(items.filter(isPlayed).map(({ id }) => id));
  const dropped = chosen.filter(({ id }) => !ids.has(id));
  return { minutes, playMinutes, items, lockedIds, skippedIds, spare: [...dropped, ...spare] };
}

const DAY_MINUTES = 24 * 60;

function wholeMinutes(minutes: number): number {
  return minutes > 0 ? Math.floor(Math.min(minutes, DAY_MINUTES)) : 0;
}

function without(candidates: Candidates, ids: readonly string[]): Candidates {
  const wanted = (own: readonly Candidate[]): readonly Candidate[] =>
    own.filter(({ id }) => !ids.includes(id));
  return {
    due: wanted(candidates.due),
    nearRaise: wanted(candidates.nearRaise),
    weakPlace: wanted(candidates.weakPlace),
    newThing: wanted(candidates.newThing),
  };
}

/** Shares minutes out evenly in whole ones, the first items getting what is left over. */
function share(chosen: readonly Candidate[], minutes: number): readonly PlayItem[] {
  const shared = Math.min(minutes, chosen.length * LONGEST_ITEM_MINUTES);
  const each = Math.floor(shared / chosen.length);
  return chosen.map((one, index) => ({
    ...one,
    kind: one.why.kind,
    minutes: each + (index < shared - each * chosen.length ? 1 : 0),
  }));
}

/** The first of the spare candidates that goes along with the items, of the wanted kind if there is one; null without. */
export function standIn(
  spare: readonly Candidate[],
  items: readonly PlayItem[],
  kind: PlayItem['kind'],
): Candidate | null {
  const fitting = spare.filter((one) => goesAlong(one, items));
  return fitting.find(({ why }) => why.kind === kind) ?? fitting[0] ?? null;
}
