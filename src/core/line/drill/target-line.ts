/** Lines drawn through targets: chord tones on strong places, each led into. */

import type { DrillRule } from './drill-problem.ts';
import { fillGap } from './fill.ts';
import type { LeadIn } from './lead-ins.ts';
import type { DrillFrame } from './scale-rules.ts';
import { startKeys } from './start-keys.ts';
import { strongPlaces } from './strong-places.ts';
import { type Direction, keysIn } from './tones.ts';

export type LineOutcome =
  | { readonly ok: true; readonly midis: readonly number[] }
  | { readonly ok: false; readonly atSlot: number; readonly rule: DrillRule };

/**
 * A line through targets. They run up and down through the chord tones as the continuous scale does through the palette:
 * on in their direction, also over a change of chord, to the next chord tone whose lead-in fits in the register; else they
 * turn. A note is repeated only where nothing else fits. Common practice as to targets; their order is our own.
 */
export function targetLine(frame: DrillFrame, leadIn: LeadIn): LineOutcome {
  const { places, wish } = frame;
  const midis: number[] = [];
  let direction: Direction = 1;
  for (const slot of strongPlaces(places, leadIn.notes + 1)) {
    const chordMask = places[slot]?.chordMask ?? 0;
    const keys = keysIn(chordMask, wish.register);
    if (chordMask === 0) return { ok: false, atSlot: slot, rule: 'chordTone' };
    if (keys.length === 0) return { ok: false, atSlot: slot, rule: 'register' };
    const from = midis.at(-1);
    if (from === undefined) {
      const [first] = startKeys(chordMask, wish);
      if (first === undefined) {
        return { ok: false, atSlot: slot, rule: wish.startMidi === null ? 'oneTone' : 'start' };
      }
      midis.push(first);
      continue;
    }
    const notes = passage(
      frame,
      leadIn,
      { slot, at: midis.length, from },
      ahead(keys, from, direction),
    );
    if (notes === null) {
      return { ok: false, atSlot: slot, rule: keys.length === 1 ? 'oneTone' : 'span' };
    }
    midis.push(...notes);
    direction = (notes.at(-1) ?? from) > from ? 1 : -1;
  }
  const count = places.length - midis.length;
  const from = midis.at(-1) ?? 0;
  const rest = fillGap(frame, { slot: midis.length, count, from, towards: direction, next: null });
  if (rest === null) return { ok: false, atSlot: midis.length, rule: 'oneTone' };
  return { ok: true, midis: [...midis, ...rest] };
}

/** The other keys in the order they are tried: on in the direction, nearest first, then back. */
function ahead(keys: readonly number[], from: number, direction: Direction): readonly number[] {
  const above = keys.filter((midi) => midi > from);
  const below = keys.filter((midi) => midi < from).reverse();
  return direction === 1 ? [...above, ...below] : [...below, ...above];
}

interface Passage {
  /** Slot of the target, and the slot after the target before. */
  readonly slot: number;
  readonly at: number;
  readonly from: number;
}

/** The notes after the last target up to and with the first of the targets that can be led into. */
function passage(
  frame: DrillFrame,
  leadIn: LeadIn,
  { slot, at, from }: Passage,
  targets: readonly number[],
): readonly number[] | null {
  const count = slot - at - leadIn.notes;
  for (const mayRepeat of [false, true]) {
    for (const target of targets) {
      const lead = leadIn.write(slot, target, mayRepeat || count > 0 ? null : from);
      if (lead === null) continue;
      const next = mayRepeat ? null : (lead[0] ?? null);
      const towards = target > from ? 1 : -1;
      const filled = fillGap(frame, { slot: at, count, from, towards, next });
      if (filled !== null) return [...filled, ...lead, target];
    }
  }
  return null;
}
