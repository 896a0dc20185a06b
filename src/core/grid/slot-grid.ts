/** The metronome grid: which slots a form owes, where they lie in the bar and in time. */

import { beatsPerBar, type Form, isCompound, type Meter } from '../chart/index.ts';
import type { SlotsPerBeat } from '../words.ts';
import type { BeatClock } from './beat-clock.ts';

/** One beat of a chorus: its bar (index in the form, from 0), its count in the bar (from 1), the chord in force. */
export interface BeatPlace {
  readonly barIndex: number;
  readonly beat: number;
  /** Index of the chord among the chords of the chorus, from 0. */
  readonly chord: number;
}

/** One slot of a chorus. */
export interface SlotPlace extends BeatPlace {
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
  /** Nominal time of a slot, any whole number: −1 is the slot before the first downbeat. */
  timeMs(slot: number): number;
  /** Length of the beat a slot lies in, ms. */
  beatMs(slot: number): number;
}

/** Eighth notes per beat, the default grid: 2 in simple meters, 3 in compound ones. */
export function defaultSlotsPerBeat(meter: Meter): SlotsPerBeat {
  return isCompound(meter) ? 3 : 2;
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
  let chord = -1;
  form.bars.forEach((bar, barIndex) => {
    const slotsInBeat = settings.slotsPerBeat ?? defaultSlotsPerBeat(bar.meter);
    for (let beat = 1; beat <= beatsPerBar(bar.meter); beat++) {
      if (bar.chords.some((placed) => placed.beat === beat)) chord++;
      const place = { barIndex, beat, chord: Math.max(chord, 0) };
      for (let sub = 0; sub < slotsInBeat; sub++) {
        const fraction = slotFraction(sub, slotsInBeat, settings.swing);
        slots.push({ ...place, sub, beatInChorus: beats.length, fraction, slotsInBeat });
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
 * Where a slot lies in its beat: even, but with two slots the off-beat lies at r/(1+r) for swing ratio r.
 * Source: `grading.md`, "Time and grid".
 */
export function slotFraction(sub: number, slotsInBeat: number, swing: number): number {
  return slotsInBeat === 2 ? (sub * swing) / (1 + swing) : sub / slotsInBeat;
}
