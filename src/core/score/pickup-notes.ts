/**
 * What was played in the pickup: notes without a verdict, for grading starts at slot 0. They are put on the slots the
 * pickup would have, so that they can be drawn and written.
 */

import { eighthsPerBeat, type Form, type FormChord, type FormPickup } from '../chart/index.ts';
import { TWELFTHS } from '../grading/free-line.ts';
import { completeSettings, type GradeSettings } from '../grading/settings.ts';
import { createBeatClock, defaultSlotsPerBeat, slotFraction } from '../grid/index.ts';
import type { TakeEvents } from '../take/model.ts';
import { gradedSources, sourceOf } from '../take/sources.ts';
import { makeSpeller } from '../theory/index.ts';

export interface PickupNote {
  /** Twelfths of a beat from the first downbeat, below 0: where its slot begins, swing left out. */
  readonly at: number;
  /** Of its slot, in twelfths. */
  readonly length: number;
  readonly midi: number;
  /** Spelled over the pickup's chord, with its octave: `Eb4`. */
  readonly name: string;
}

interface PickupSlot {
  readonly at: number;
  readonly length: number;
  readonly atMs: number;
}

/**
 * The notes of the right hand in the pickup of a form, in order; none for a form without one. Each goes to the slot it is
 * nearest to; of two for one slot the nearer is taken. In: events of a take; those from the cell of slot 0 on, and those
 * before the pickup, are passed over.
 */
export function pickupNotes(
  form: Form,
  take: Pick<TakeEvents, 'events' | 'sources'>,
  settings: GradeSettings,
): readonly PickupNote[] {
  const sources = gradedSources(take.sources, settings);
  const slots = form.pickup === null ? [] : pickupSlots(form, form.pickup, settings);
  const [first, last] = [slots[0], slots.at(-1)];
  if (first === undefined || last === undefined) return [];
  const fromMs = first.atMs - ((slots[1]?.atMs ?? 0) - first.atMs) / 2;
  const toMs = last.atMs / 2;
  const taken = new Map<PickupSlot, { readonly midi: number; readonly farMs: number }>();
  for (const event of take.events) {
    const { latencyMs, splitMidi } = sourceOf(event, sources);
    const onsetMs = event.atMs - latencyMs;
    if (event.kind !== 'noteOn' || event.velocity === 0) continue;
    if (event.midi < (splitMidi ?? 0) || onsetMs < fromMs || onsetMs >= toMs) continue;
    const far = (slot: PickupSlot): number => Math.abs(onsetMs - slot.atMs);
    const slot = slots.reduce((best, one) => (far(one) < far(best) ? one : best));
    const before = taken.get(slot);
    if (before === undefined || far(slot) < before.farMs) {
      taken.set(slot, { midi: event.midi, farMs: far(slot) });
    }
  }
  return slots.flatMap((slot): PickupNote[] => {
    const midi = taken.get(slot)?.midi;
    const { at, length } = slot;
    return midi === undefined ? [] : [{ at, length, midi, name: nameAt(form, at, midi) }];
  });
}

/** The slots of a pickup, in order. One that begins within a beat has eighths where the grid has whole beats. */
function pickupSlots(form: Form, { beats }: FormPickup, settings: GradeSettings): PickupSlot[] {
  const { slotsPerBeat, swing, tempo } = completeSettings(settings);
  const meter = form.bars[0]?.meter ?? form.meter;
  const asked = slotsPerBeat ?? defaultSlotsPerBeat(meter);
  const inBeat = Number.isInteger(beats) || asked > 1 ? asked : eighthsPerBeat(meter);
  const clock = createBeatClock(form, tempo);
  const whole = Math.ceil(beats);
  return Array.from({ length: whole * inBeat }, (_, index) => {
    const beat = Math.floor(index / inBeat) - whole;
    const sub = index % inBeat;
    return {
      at: beat * TWELFTHS + (sub * TWELFTHS) / inBeat,
      length: TWELFTHS / inBeat,
      atMs: clock.timeMs(beat + slotFraction(sub, inBeat, swing, meter)),
    };
  }).filter(({ at }) => at >= -beats * TWELFTHS);
}

/** The chord in force in a pickup, so many beats (below 0) before the first downbeat: its own, or the form's first. */
export function pickupChordAt(form: Form, beat: number): FormChord | undefined {
  const first = form.bars[0]?.chords[0];
  if (form.pickup === null) return first;
  const inShortBar = Math.ceil(form.pickup.beats) + beat + 1;
  return form.pickup.chords.findLast((chord) => chord.beat <= inShortBar) ?? first;
}

function nameAt(form: Form, at: number, midi: number): string {
  const chord = pickupChordAt(form, at / TWELFTHS);
  const palette = chord?.chosen?.palette ?? null;
  return makeSpeller({ palette, symbol: chord?.symbol ?? null, key: form.key })(midi);
}
