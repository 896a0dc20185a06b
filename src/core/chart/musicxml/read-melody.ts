/** The melody of a score over the bars of its chart: places in twelfths of a beat, ties joined. */

import { TWELFTHS } from '../../grading/free-line.ts';
import { barStarts, melodyBars } from '../../melody/melody-bars.ts';
import type { Melody, MelodySound } from '../../melody/model.ts';
import { keyFifths } from '../../theory/index.ts';
import { parseMeter, quartersPerBeat } from '../meter.ts';
import type { Chart } from '../model.ts';
import type { MusicXmlNotice } from './problem.ts';
import type { NotesOfMeasure, ReadNotes } from './read-notes.ts';
import type { Tally } from './tally.ts';

/** A place further than this from a twelfth was moved; nearer is the arithmetic of the file's divisions. */
const EXACT = 1e-6;

interface OpenSound {
  from: number;
  to: number;
  readonly name: string;
  isOpen: boolean;
}

/** In: the notes of a part and whether its first measure is a pickup; null for a part without a note of a melody. */
export function readMelody(
  chart: Chart,
  { measures, leftOut }: ReadNotes,
  hasPickup: boolean,
  notices: MusicXmlNotice[],
): Melody | null {
  const bars = melodyBars(chart);
  const starts = barStarts(bars);
  const sounds: OpenSound[] = [];
  const pickup = hasPickup ? measures[0] : undefined;
  const perQuarter = (index: number): number => {
    const meter = parseMeter(bars[index]?.meter ?? '') ?? chart.meter;
    return TWELFTHS / quartersPerBeat(meter);
  };
  // A pickup is no longer than a bar; what lies beyond is told of.
  const leadIn = Math.min(Math.round((pickup?.quarters ?? 0) * perQuarter(0)), starts[1] ?? 0);
  if (pickup !== undefined) addMeasure(pickup, -leadIn, 0, perQuarter(0), sounds, leftOut);
  const full = hasPickup ? measures.slice(1) : measures;
  full.slice(0, bars.length).forEach((measure, index) => {
    const [start = 0, end = start] = [starts[index], starts[index + 1]];
    const perOwn = perQuarter(index);
    addMeasure(measure, start, end, perOwn, sounds, leftOut);
    const reach = Math.round(measure.quarters * perOwn);
    if (measure.notes.length > 0 && reach < end - start) leftOut.add('unfilled', measure.number);
  });
  const beyond = full.slice(bars.length).reduce((sum, { notes }) => sum + notes.length, 0);
  notices.push(...leftOut.notices());
  if (beyond > 0) {
    const what = `notes of the melody after the last measure of the chords, ${beyond} of them, were left out`;
    notices.push({ measure: null, what });
  }
  if (sounds.length === 0) return null;
  return {
    leadIn,
    fifths: keyFifths(chart.key),
    bars,
    sounds: sounds.map(({ from, to, name }): MelodySound => ({ from, length: to - from, name })),
  };
}

/** Adds the notes of a measure that lasts from one twelfth to another. */
function addMeasure(
  { number, notes }: NotesOfMeasure,
  start: number,
  end: number,
  perQuarter: number,
  sounds: OpenSound[],
  leftOut: Tally,
): void {
  for (const { atQuarter, quarters, name, tiedFrom, tiedTo } of notes) {
    const exact = {
      from: start + atQuarter * perQuarter,
      to: start + (atQuarter + quarters) * perQuarter,
    };
    const [from, wanted] = [Math.round(exact.from), Math.round(exact.to)];
    const to = Math.min(wanted, end);
    const isMoved = Math.abs(exact.from - from) > EXACT || Math.abs(exact.to - wanted) > EXACT;
    if (from >= end) {
      leftOut.add('late', number);
      continue;
    }
    if (to <= from) {
      leftOut.add('short', number);
      continue;
    }
    if (isMoved) leftOut.add('rounded', number);
    if (to < wanted) leftOut.add('cut', number);
    const last = sounds.at(-1);
    if (tiedFrom && last?.isOpen === true && last.to === from && last.name === name) {
      last.to = to;
      last.isOpen = tiedTo;
      continue;
    }
    if (tiedFrom) leftOut.add('tie', number);
    if (last !== undefined && last.to > from) {
      leftOut.add('cut', number);
      if (last.from >= from) {
        // Both round to one place: the later one has it.
        sounds.pop();
      } else last.to = from;
    }
    sounds.push({ from, to, name, isOpen: tiedTo });
  }
}
