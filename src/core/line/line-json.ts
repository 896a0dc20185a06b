/** What `line --json` prints, schema `linekeeper.line/1`. Source of the fields: `docs/reports.md`. */

import { type Form, formatMeter } from '../chart/index.ts';
import { formatKey } from '../theory/index.ts';
import type { DrillStyle } from './drill/index.ts';
import type { LineStyle, LineWish } from './wish.ts';
import type { ClosingNote, NotePlace, WrittenLine } from './written-line.ts';

export const LINE_SCHEMA = 'linekeeper.line/1';

export interface LineJsonSlot extends NotePlace {
  readonly index: number;
  readonly midi: number;
  readonly name: string;
  readonly onsetBeats: number;
  readonly durationBeats: number;
}

export type LineJsonClosing = Pick<ClosingNote, 'midi' | 'name' | 'chord' | 'onsetBeats'>;

export interface LineJson {
  readonly schema: typeof LINE_SCHEMA;
  readonly chart: string;
  readonly plan: string;
  readonly key: string;
  readonly meter: string;
  readonly tempo: number | null;
  /** Of a drill the lowest at which the grader finds no fault in it. */
  readonly level: WrittenLine['level'];
  readonly style: LineStyle | null;
  readonly shape: number | null;
  readonly drill: DrillStyle | null;
  readonly choruses: number;
  readonly low: number;
  readonly high: number;
  readonly from: number | null;
  readonly seed: number;
  readonly slots: readonly LineJsonSlot[];
  readonly closing: LineJsonClosing | null;
}

/** A line as data. In: the form it was written over, what was asked for, and the drill it is, or null. */
export function lineJson(
  form: Form,
  line: WrittenLine,
  { style, density, register, startMidi, seed }: LineWish,
  drill: DrillStyle | null,
): LineJson {
  return {
    schema: LINE_SCHEMA,
    chart: form.title,
    plan: form.plan,
    key: formatKey(form.key),
    meter: formatMeter(form.meter),
    tempo: form.tempoBpm,
    level: line.level,
    // A drill has a style and shape of its own.
    style: drill === null ? style : null,
    shape: drill === null ? density : null,
    drill,
    choruses: line.choruses,
    low: register.lowestMidi,
    high: register.highestMidi,
    from: startMidi,
    seed,
    closing: line.closing && closingJson(line.closing),
    slots: line.notes.map(({ slot, place, midi, name, onsetBeats, durationBeats }) => ({
      ...{ index: slot, ...place, midi, name, onsetBeats, durationBeats },
    })),
  };
}

function closingJson({ midi, name, chord, onsetBeats }: ClosingNote): LineJsonClosing {
  return { midi, name, chord, onsetBeats };
}
