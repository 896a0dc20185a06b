/** What is to be written: when each note of a line begins and how long it is, in twelfths of a beat. */

import { beatsPerBar, type Form } from '../chart/index.ts';
import { TWELFTHS } from '../grading/free-line.ts';
import { defaultSlotsPerBeat } from '../grid/index.ts';
import type { WrittenLine } from '../line/written-line.ts';
import type { SlotsPerBeat } from '../words.ts';

/** One note, from the first downbeat on, chorus after chorus; it never lasts into the next one. */
export interface Sound {
  /** Twelfths of a beat. */
  readonly from: number;
  readonly length: number;
  /** With its octave: `Eb4`; null where a note was owed and none came. */
  readonly name: string | null;
  /** Index of the note's slot in its line or report. */
  readonly slot: number;
}

/** Where each slot begins and how long it is, in twelfths of a beat, swing left out: it is a sign and no rhythm. */
export function slotPlaces(
  form: Form,
  slotsPerBeat: SlotsPerBeat | null,
  choruses: number,
): readonly Pick<Sound, 'from' | 'length'>[] {
  let beat = 0;
  const chorus = form.bars.flatMap(({ meter }) => {
    const slots = slotsPerBeat ?? defaultSlotsPerBeat(meter);
    const length = TWELFTHS / slots;
    const first = beat;
    beat += beatsPerBar(meter);
    return Array.from({ length: beatsPerBar(meter) * slots }, (_, slot) => ({
      from: first * TWELFTHS + slot * length,
      length,
    }));
  });
  return Array.from({ length: choruses }, (_, pass) =>
    chorus.map(({ from, length }) => ({ from: from + pass * beat * TWELFTHS, length })),
  ).flat();
}

/** The sounds of a written line. */
export function soundsOfLine(form: Form, line: WrittenLine): readonly Sound[] {
  const places =
    line.rhythm === null
      ? slotPlaces(form, line.slotsPerBeat, line.choruses)
      : line.rhythm.flatMap((parts, beat) =>
          parts
            .filter(({ isRest }) => !isRest)
            .map(({ at, length }) => ({ from: beat * TWELFTHS + at, length })),
        );
  return line.notes.flatMap(({ name, slot }, index) => {
    const place = places[line.rhythm === null ? slot : index];
    return place === undefined ? [] : [{ ...place, name, slot }];
  });
}
