/** Lines and takes as written music: bars of note values for the staff and for score files. The door to this folder. */

import type { Form } from '../chart/index.ts';
import { TWELFTHS } from '../grading/free-line.ts';
import type { Report } from '../grading/index.ts';
import type { WrittenLine } from '../line/index.ts';
import type { SlotsPerBeat } from '../words.ts';
import { closingMeasure } from './closing-measure.ts';
import { layMeasures, type Measure } from './measures.ts';
import { NO_SLOT, pickupMeasure, withPickup } from './pickup-measure.ts';
import type { PickupNote } from './pickup-notes.ts';
import { soundsOfLine } from './sounds.ts';
import { soundsOfReport } from './take-sounds.ts';

export { layMeasures, type Measure, type MeasureBeat, type MeasureNote } from './measures.ts';
export type { NoteValue, TupletRatio } from './note-values.ts';
export { FILLING, pickupMeasure, withPickup } from './pickup-measure.ts';
export { type PickupNote, pickupChordAt, pickupNotes } from './pickup-notes.ts';
export {
  type BackVerdict,
  comparePlayedBack,
  type ModelNote,
  modelOf,
  type PlayedBack,
  type PlayedBackNote,
} from './played-back.ts';
export { writeScoreMusicXml } from './score-musicxml.ts';
export type { Sound } from './sounds.ts';

/** The bars of all choruses of a line over its form, and the bar of its closing note, where it has one. */
export function lineMeasures(form: Form, line: WrittenLine): readonly Measure[] {
  const bars = layMeasures(form, soundsOfLine(form, line), line.choruses);
  const closing = closingMeasure(form, line);
  return closing === null ? bars : [...bars, closing];
}

/**
 * The bars of all choruses a take reached, and how many of its notes came too close to another to be written. In: its
 * report, the slots per beat asked for, null for eighths in every meter, and what was played in the pickup, which is
 * written before the first bar where there are notes in it.
 */
export function takeMeasures(
  form: Form,
  report: Report,
  slotsPerBeat: SlotsPerBeat | null,
  pickup: readonly PickupNote[] = [],
): { readonly measures: readonly Measure[]; readonly unwritten: number } {
  const { sounds, choruses, unwritten } = soundsOfReport(form, report, slotsPerBeat);
  const bars = layMeasures(form, sounds, choruses);
  const [first] = bars;
  if (form.pickup === null || pickup.length === 0 || first === undefined) {
    return { measures: bars, unwritten };
  }
  const before = pickup.map(({ at, length, name }) => ({ from: at, length, name, slot: NO_SLOT }));
  const { beats, chords } = form.pickup;
  const short = pickupMeasure(beats * TWELFTHS, before, chords, first.meter);
  return { measures: withPickup(short, bars), unwritten };
}
