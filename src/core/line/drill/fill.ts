/** The notes between a target and the next lead-in: palette steps. */

import type { DrillFrame } from './scale-rules.ts';
import { turned } from './scale-rules.ts';
import { type Direction, isIn, toneFrom } from './tones.ts';

export interface Gap {
  /** The first slot to fill, and how many. */
  readonly slot: number;
  readonly count: number;
  /** The key before them, and which way they set out. */
  readonly from: number;
  readonly towards: Direction;
  /** The key after them, which the last of them must not be; null: any. */
  readonly next: number | null;
}

/**
 * Goes on by steps through the palette in force at each slot, the other way where the register ends or the key after them
 * would be repeated. Null where there is no such way. Own rule: teachers leave these notes open.
 */
export function fillGap({ places, wish }: DrillFrame, gap: Gap): readonly number[] | null {
  const notes: number[] = [];
  let at = gap.from;
  let way = gap.towards;
  for (let index = 0; index < gap.count; index++) {
    const mask = places[gap.slot + index]?.palette.certainMask ?? 0;
    const avoided = index === gap.count - 1 ? gap.next : null;
    const ways = [way, turned(way)].flatMap((side) => {
      const midi = toneFrom(mask, at, side);
      return isIn(wish.register, midi) && midi !== avoided ? [{ midi, side }] : [];
    });
    const [chosen] = ways;
    if (chosen === undefined) return null;
    at = chosen.midi;
    way = chosen.side;
    notes.push(at);
  }
  return notes;
}
