/**
 * A session changed by its player: reordered, an item skipped or locked. Each gives a new session whose breaks and sums
 * are right again; an id that is not in it changes nothing.
 */

import { fitItems } from './breaks.ts';
import { isPlayed, type PlayItem, type Session } from './model.ts';
import { standIn } from './propose.ts';

/** Moves an item to a place among the played ones, from 0; a place beyond either end is that end. */
export function moveItem(session: Session, id: string, to: number): Session {
  const items = session.items.filter(isPlayed);
  const item = items.find((one) => one.id === id);
  if (item === undefined) return session;
  const others = items.filter((one) => one !== item);
  const place = Math.min(Math.max(0, Math.trunc(to)), others.length);
  return refit(session, others.toSpliced(place, 0, item));
}

/**
 * Skips an item for today; the best spare one that goes along stands in for it with its minutes, one of its kind if there
 * is any. A locked item is unlocked by it.
 */
export function skipItem(session: Session, id: string): Session {
  const items = session.items.filter(isPlayed);
  const skipped = items.find((one) => one.id === id);
  if (skipped === undefined) return session;
  const others = items.filter((one) => one !== skipped);
  const next = standIn(session.spare, others, skipped.kind);
  const { minutes } = skipped;
  const instead: readonly PlayItem[] =
    next === null ? [] : [{ ...next, kind: next.why.kind, minutes }];
  return refit(
    {
      ...session,
      lockedIds: session.lockedIds.filter((locked) => locked !== id),
      skippedIds: [...session.skippedIds, id],
      spare: session.spare.filter((one) => one !== next),
    },
    items.flatMap((one) => (one === skipped ? instead : [one])),
  );
}

/** Locks an item: it stays when the session is proposed anew. */
export function lockItem(session: Session, id: string): Session {
  const isThere = session.items.some((item) => isPlayed(item) && item.id === id);
  if (!isThere || session.lockedIds.includes(id)) return session;
  return { ...session, lockedIds: [...session.lockedIds, id] };
}

/** Lets go of a locked item. */
export function unlockItem(session: Session, id: string): Session {
  if (!session.lockedIds.includes(id)) return session;
  return { ...session, lockedIds: session.lockedIds.filter((locked) => locked !== id) };
}

/** The locked items, in their order: what is handed to the next proposal. */
export function lockedItems({ items, lockedIds }: Session): readonly PlayItem[] {
  return items.filter(isPlayed).filter(({ id }) => lockedIds.includes(id));
}

/** Fits the items anew; one that no longer has its minutes can stand in later. */
function refit(session: Session, items: readonly PlayItem[]): Session {
  const fitted = fitItems(items, session);
  const left = new Set(fitted.filter(isPlayed).map(({ id }) => id));
  const dropped = items
    .filter(({ id }) => !left.has(id))
    .map(({ id, play, why }) => ({ id, play, why }));
  return { ...session, items: fitted, spare: [...dropped, ...session.spare] };
}
