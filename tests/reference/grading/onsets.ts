/** "From events to a line" and "Slots and onsets", over the whole take at once. */

import type { TakeEvents, TakeSource } from '../../../src/core/take/model.ts';
import type { Entry } from './places.ts';

export interface Key {
  readonly midi: number;
  readonly onsetMs: number;
  readonly velocity: number;
  readonly durationMs: number;
  /** Index of its source. */
  readonly source: number;
}

/** Every key-down with how long it was held, in the order of the corrected times. */
export function keysOf(
  { events, endMs }: TakeEvents,
  sources: readonly TakeSource[],
): readonly Key[] {
  const keys = events.flatMap((down, index): Key[] => {
    if (down.kind !== 'noteOn' || down.velocity === 0) return [];
    const { source = 0 } = down;
    // "A note-on with velocity 0 is a note-off. A second note-on of a sounding key ends the first. A disconnect ends
    // the notes of its keyboard." A key of one keyboard is none of another's, which the text leaves open.
    const end = events
      .slice(index + 1)
      .find(
        (event) =>
          (event.source ?? 0) === source &&
          (event.kind === 'allOff' ||
            ((event.kind === 'noteOn' || event.kind === 'noteOff') && event.midi === down.midi)),
      );
    const durationMs = (end?.atMs ?? Math.max(endMs, events.at(-1)?.atMs ?? endMs)) - down.atMs;
    const { midi, velocity, atMs } = down;
    // "The latency of its source is taken off an event before anything else."
    const onsetMs = atMs - (sources[source]?.latencyMs ?? 0);
    return [{ midi, velocity, source, onsetMs, durationMs }];
  });
  // "Events enter the grader in the order of these corrected times."
  return keys.toSorted((a, b) => a.onsetMs - b.onsetMs);
}

export interface Strike {
  readonly note: Key;
  readonly extras: readonly Key[];
}

/** "Onsets within 30 ms of one another above the split are one strike": counted from its first one, which the text leaves open. */
export function strikesOf(keys: readonly Key[]): readonly Strike[] {
  const groups: Key[][] = [];
  for (const key of keys) {
    const group = groups.at(-1);
    if (group?.[0] !== undefined && key.onsetMs - group[0].onsetMs <= 30) group.push(key);
    else groups.push([key]);
  }
  return groups.flatMap((group) => {
    // "The loudest is the line's note (at a tie the highest); the rest are extras."
    const [note] = group.toSorted((a, b) => b.velocity - a.velocity || b.midi - a.midi);
    return note === undefined ? [] : [{ note, extras: group.filter((key) => key !== note) }];
  });
}

export interface FilledSlot {
  readonly note: Key | null;
  readonly extras: readonly { readonly key: Key; readonly reason: 'double' | 'spare' }[];
}

interface Cell {
  readonly strikes: readonly Strike[];
  note: Key | null;
  spares: Key[];
}

/** Fills slots with strikes. `slots` has one slot more than are planned at either end, for the outer midpoints. */
export function fillSlots(
  slots: readonly Pick<Entry, 'nominalMs'>[],
  strikes: readonly Strike[],
): readonly FilledSlot[] {
  const timeMs = (slot: number): number => slots[slot]?.nominalMs ?? Number.NaN;
  const cells: Cell[] = [];
  for (let slot = 1; slot < slots.length - 1; slot++) {
    // "Each slot owns the time from the midpoint to its previous slot to the midpoint to its next."
    const fromMs = (timeMs(slot - 1) + timeMs(slot)) / 2;
    const toMs = (timeMs(slot) + timeMs(slot + 1)) / 2;
    const inCell = strikes.filter(({ note }) => note.onsetMs >= fromMs && note.onsetMs < toMs);
    const offMs = ({ onsetMs }: Key): number => Math.abs(onsetMs - timeMs(slot));
    // "The onset nearest the slot's time fills the slot; others in the cell are spare." The earlier of two as near.
    const [note = null, ...spares] = inCell
      .map((strike) => strike.note)
      .toSorted((a, b) => offMs(a) - offMs(b) || a.onsetMs - b.onsetMs);
    cells.push({ strikes: inCell, note, spares: spares.toSorted((a, b) => a.onsetMs - b.onsetMs) });
  }
  // "Repair: a spare onset lying on the side of an empty neighbouring slot fills that neighbour when its deviation from it is
  // under 0.75 of the distance between the two slots." The text leaves open which of two comes first: the one before.
  cells.forEach((cell, index) => {
    if (cell.note !== null) return;
    const hereMs = timeMs(index + 1);
    const before = cells[index - 1];
    const beforeMs = timeMs(index);
    const behind = before?.spares.findLast(({ onsetMs }) => onsetMs >= beforeMs);
    if (before && behind && hereMs - behind.onsetMs < 0.75 * (hereMs - beforeMs)) {
      cell.note = behind;
      before.spares = before.spares.filter((spare) => spare !== behind);
      return;
    }
    const after = cells[index + 1];
    const afterMs = timeMs(index + 2);
    const ahead = after?.spares.find(({ onsetMs }) => onsetMs < afterMs);
    if (after && ahead && ahead.onsetMs - hereMs < 0.75 * (afterMs - hereMs)) {
      cell.note = ahead;
      after.spares = after.spares.filter((spare) => spare !== ahead);
    }
  });
  // "Remaining spares are extras and count against the cell's slot."
  return cells.map(({ note, spares, strikes: inCell }) => ({
    note,
    extras: [
      ...spares.map((key) => ({ key, reason: 'spare' as const })),
      ...inCell.flatMap(({ extras }) => extras).map((key) => ({ key, reason: 'double' as const })),
    ],
  }));
}
