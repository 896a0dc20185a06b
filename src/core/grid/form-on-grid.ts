/** Chords between the slots of a coarse grid. */

import { beatsPerBar, type Form, type FormBar } from '../chart/index.ts';
import type { SlotsPerBeat } from '../words.ts';
import { defaultSlotsPerBeat } from './slot-grid.ts';

/**
 * The form as a line of slots meets it: a chord that begins and ends between two slots of the grid has no note to show it, and is
 * passed over; the chord before it lasts as much longer. The same form where every chord has a slot. In: slots to a beat, null for
 * eighths. Own rule, `docs/grading.md`, "Time and grid".
 */
export function formOnGrid(form: Form, slotsPerBeat: SlotsPerBeat | null): Form {
  const bars = form.bars.map((bar) => barOnGrid(bar, slotsPerBeat));
  return bars.every((bar, index) => bar === form.bars[index]) ? form : { ...form, bars };
}

function barOnGrid(bar: FormBar, slotsPerBeat: SlotsPerBeat | null): FormBar {
  if (bar.chords.every(({ beats }) => beats >= 1)) return bar;
  const slotsInBeat = slotsPerBeat ?? defaultSlotsPerBeat(bar.meter);
  const firstSlots = bar.chords.map(({ beat }) => Math.ceil((beat - 1) * slotsInBeat));
  const end = beatsPerBar(bar.meter) * slotsInBeat;
  const hasSlot = firstSlots.map((slot, index) => slot < (firstSlots[index + 1] ?? end));
  if (hasSlot.every(Boolean)) return bar;
  const chords: FormBar['chords'][number][] = [];
  for (const [index, chord] of bar.chords.entries()) {
    const before = chords.at(-1);
    if (hasSlot[index] || before === undefined) chords.push(chord);
    else chords[chords.length - 1] = { ...before, beats: before.beats + chord.beats };
  }
  return { ...bar, chords };
}
