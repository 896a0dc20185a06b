/** Where a session rests, and how it is kept within its minutes. */

import { type BreakItem, isPlayed, type PlayItem, type SessionItem } from './model.ts';

/** Playing at a stretch is followed by a break at the latest after this. Common practice, no source. */
export const LONGEST_STRETCH_MINUTES = 25;
export const BREAK_MINUTES = 5;
/** What is shorter is left out. Own rule. */
export const LEAST_ITEM_MINUTES = 2;

/** The most that can be played in so many minutes, breaks taken off; no break ends a session. */
export function playableMinutes(minutes: number, limitMinutes: number | null): number {
  let playing = Math.min(minutes, limitMinutes ?? minutes);
  const breaks = (): number => Math.max(0, Math.ceil(playing / LONGEST_STRETCH_MINUTES) - 1);
  while (playing > 0 && playing + BREAK_MINUTES * breaks() > minutes) playing--;
  return Math.max(0, playing);
}

/** Puts as few breaks between the items as can be, the stretches between them as even as can be. */
export function withBreaks(items: readonly PlayItem[]): readonly SessionItem[] {
  const fewest = stretches(items, LONGEST_STRETCH_MINUTES).length;
  let most = LONGEST_STRETCH_MINUTES;
  while (most > 1 && stretches(items, most - 1).length === fewest) most--;
  const rest: BreakItem = { kind: 'break', minutes: BREAK_MINUTES };
  return stretches(items, most).flatMap((stretch, index): readonly SessionItem[] =>
    index === 0 ? stretch : [rest, ...stretch],
  );
}

/** Runs of items that last no longer than `most` together; an item that does alone is a run of its own. */
function stretches(items: readonly PlayItem[], most: number): readonly (readonly PlayItem[])[] {
  const runs: PlayItem[][] = [];
  for (const item of items) {
    const last = runs.at(-1);
    if (last === undefined || totalMinutes(last) + item.minutes > most) runs.push([item]);
    else last.push(item);
  }
  return runs;
}

export function totalMinutes(items: readonly SessionItem[]): number {
  return items.reduce((sum, { minutes }) => sum + minutes, 0);
}

/** What a session's items must stay within. */
export interface Bounds {
  readonly minutes: number;
  readonly playMinutes: number | null;
  readonly lockedIds: readonly string[];
}

/**
 * The items with their breaks, within the bounds: minutes too many are taken off the last item that is not locked, and it is
 * left out when it gets too short; locked items are touched only when no other is left.
 */
export function fitItems(items: readonly PlayItem[], bounds: Bounds): readonly SessionItem[] {
  let kept = items.map((item) => ({
    ...item,
    minutes: Math.min(item.minutes, LONGEST_STRETCH_MINUTES),
  }));
  for (;;) {
    const laid = withBreaks(kept);
    if (isWithin(laid, bounds)) return laid;
    const open = kept.findLast(({ id }) => !bounds.lockedIds.includes(id)) ?? kept.at(-1);
    kept = kept.flatMap((item) => {
      if (item !== open) return [item];
      return item.minutes > LEAST_ITEM_MINUTES ? [{ ...item, minutes: item.minutes - 1 }] : [];
    });
  }
}

function isWithin(items: readonly SessionItem[], { minutes, playMinutes }: Bounds): boolean {
  const playing = totalMinutes(items.filter(isPlayed));
  return (
    items.length === 0 || (totalMinutes(items) <= minutes && playing <= (playMinutes ?? playing))
  );
}
