/** The metronome grid: which slots a form owes, where they lie in the bar and in time. */

import { beatsPerBar, eighthsPerBeat, type Form, type Meter } from '../chart/index.ts';
import type { SlotsPerBeat } from '../words.ts';
import type { BeatClock } from './beat-clock.ts';

/** One beat of a chorus: its bar (index in the form, from 0), its count in the bar (from 1). */
export interface BeatPlace {
  readonly barIndex: number;
  readonly beat: number;
}

/** One slot of a chorus. */
export interface SlotPlace extends BeatPlace {
  /** Index of the chord in force among the chords of the chorus, from 0: one that begins on a half-beat is in force from its slot on. */
  readonly chord: number;
  readonly sub: number;
  /** The beat through the chorus, from 0. */
  readonly beatInChorus: number;
  /** Where the slot lies within its beat, 0 up to but not including 1. */
  readonly fraction: number;
  readonly slotsInBeat: number;
}

export interface SlotGrid {
  readonly slotsPerChorus: number;
  readonly beatsPerChorus: number;
  /** Planned end in slots, or null when the choruses are not limited. */
  readonly plannedSlots: number | null;
  readonly beats: readonly BeatPlace[];
  readonly slots: readonly SlotPlace[];
  /** Index of the chord in force at a place of the chorus, in beats from its start. */
  chordAt(beat: number): number;
  /** Nominal time of a slot, any whole number: −1 is the slot before the first downbeat. */
  timeMs(slot: number): number;
  /** Length of the beat a slot lies in, ms. */
  beatMs(slot: number): number;
}

/** Eighth notes per beat, the default grid: 2 in simple meters, 3 in compound ones, 4 in 2/2 and 3/2, 1 in 5/8 and 7/8. */
export function defaultSlotsPerBeat(meter: Meter): SlotsPerBeat {
  return eighthsPerBeat(meter);
}

/** What shapes the grid: null slots per beat means eighth notes in every meter; null choruses means no end. */
export interface GridSettings {
  readonly slotsPerBeat: SlotsPerBeat | null;
  /** Long : short, 1 = straight; only where a beat has two slots. */
  readonly swing: number;
  readonly choruses: number | null;
}

/** Lays the grid over a form. The form must have at least one bar, and each bar a chord on beat 1. */
export function createSlotGrid(form: Form, clock: BeatClock, settings: GridSettings): SlotGrid {
  const beats: BeatPlace[] = [];
  const slots: SlotPlace[] = [];
  const chordStarts: number[] = [];
  const chordAt = (beat: number): number => lastNotAfter(chordStarts, beat);
  form.bars.forEach((bar, barIndex) => {
    const slotsInBeat = settings.slotsPerBeat ?? defaultSlotsPerBeat(bar.meter);
    for (const chord of bar.chords) chordStarts.push(beats.length + chord.beat - 1);
    for (let beat = 1; beat <= beatsPerBar(bar.meter); beat++) {
      const place = { barIndex, beat };
      const beatInChorus = beats.length;
      for (let sub = 0; sub < slotsInBeat; sub++) {
        const fraction = slotFraction(sub, slotsInBeat, settings.swing, bar.meter);
        // Swing moves the slot, not its place among the chords.
        const chord = chordAt(beatInChorus + sub / slotsInBeat);
        slots.push({ ...place, chord, sub, beatInChorus, fraction, slotsInBeat });
      }
      beats.push(place);
    }
  });
  const slotsPerChorus = slots.length;
  const beatsPerChorus = beats.length;

  function firstBeat(slot: number): number {
    return Math.floor(slot / slotsPerChorus) * beatsPerChorus;
  }
  function place(slot: number): SlotPlace | undefined {
    return slots[slot - Math.floor(slot / slotsPerChorus) * slotsPerChorus];
  }

  return {
    slotsPerChorus,
    beatsPerChorus,
    plannedSlots: settings.choruses === null ? null : settings.choruses * slotsPerChorus,
    beats,
    slots,
    chordAt,
    timeMs(slot) {
      const at = place(slot);
      return at ? clock.timeMs(firstBeat(slot) + at.beatInChorus + at.fraction) : 0;
    },
    beatMs(slot) {
      const at = place(slot);
      return clock.beatMs(firstBeat(slot) + (at?.beatInChorus ?? 0));
    },
  };
}

/**
 * Where a slot lies in its beat: even, but of two eighths to a beat, or to half a beat that is a half note, the second lies at
 * r/(1+r) for swing ratio r. Source: `grading.md`, "Time and grid".
 */
export function slotFraction(
  sub: number,
  slotsInBeat: number,
  swing: number,
  { unit }: Pick<Meter, 'unit'>,
): number {
  const pairs = unit === 2 ? 2 : 1;
  if (slotsInBeat !== 2 * pairs) return sub / slotsInBeat;
  const within = ((sub % 2) * swing) / (1 + swing);
  return (Math.floor(sub / 2) + within) / pairs;
}

/** A third of a beat and the like are not exact. */
const EXACT = 1e-9;

/** Index of the last of these, which ascend, that is not after a value; 0 when all are. */
function lastNotAfter(starts: readonly number[], value: number): number {
  let low = 0;
  let high = starts.length - 1;
  while (low < high) {
    const middle = (low + high + 1) >> 1;
    if ((starts[middle] ?? 0) <= value + EXACT) low = middle;
    else high = middle - 1;
  }
  return low;
}
