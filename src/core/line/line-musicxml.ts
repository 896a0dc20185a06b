/** A written line as a MusicXML score: chords over notes, the form unrolled. Source: MusicXML 4.0, `note`. */

import { type Form, quartersPerBeat } from '../chart/index.ts';
import { harmonyElement, keyElement, timeElement } from '../chart/musicxml/elements.ts';
import { branch, leaf } from '../chart/musicxml/xml-text.ts';
import { type LineBeat, type LineMeasure, lineMeasures, type NoteValue } from './line-measures.ts';
import type { WrittenLine } from './written-line.ts';

/** Divisions of a quarter: every note of one to four in any beat, dotted ones too, is a whole number of them. */
const DIVISIONS = 24;

/** How a value is written: its type, whether dotted, and how many beams it has in a group. */
const WRITTEN: Readonly<
  Record<NoteValue, { readonly type: string; readonly isDotted: boolean; readonly beams: number }>
> = {
  half: { type: 'half', isDotted: false, beams: 0 },
  dottedHalf: { type: 'half', isDotted: true, beams: 0 },
  quarter: { type: 'quarter', isDotted: false, beams: 0 },
  dottedQuarter: { type: 'quarter', isDotted: true, beams: 0 },
  eighth: { type: 'eighth', isDotted: false, beams: 1 },
  sixteenth: { type: '16th', isDotted: false, beams: 2 },
};

/** Writes a line over its form, one measure for each bar of each chorus, at a tempo in beats per minute. */
export function writeLineMusicXml(form: Form, line: WrittenLine, tempoBpm: number): string {
  const measures = lineMeasures(form, line).map((measure, index) =>
    measureElement(form, measure, index, tempoBpm),
  );
  const score = branch(
    'score-partwise',
    [
      branch('work', [leaf('work-title', `${form.title}, example line`)]),
      branch('identification', [branch('encoding', [leaf('software', 'Linekeeper')])]),
      branch('part-list', [branch('score-part', [leaf('part-name', 'Line')], { id: 'P1' })]),
      branch('part', measures, { id: 'P1' }),
    ],
    { version: '4.0' },
  );
  return `<?xml version="1.0" encoding="UTF-8" standalone="no"?>\n${score}\n`;
}

function measureElement(
  form: Form,
  { meter, meterSign, chords, beats }: LineMeasure,
  index: number,
  tempoBpm: number,
): string {
  const perBeat = quartersPerBeat(meter) * DIVISIONS;
  const attributes = [
    ...(index === 0 ? [leaf('divisions', DIVISIONS), keyElement(form.key)] : []),
    ...(meterSign === null ? [] : [timeElement(meter)]),
  ];
  const sound = { tempo: tempoBpm * quartersPerBeat(form.meter) };
  const content = beats.flatMap((beat, at) => [
    ...chords
      .filter((chord) => chord.beat === at + 1)
      .map(({ symbol }) => harmonyElement(symbol, 0)),
    ...beatElements(beat, perBeat),
  ]);
  return branch(
    'measure',
    [
      ...(attributes.length === 0 ? [] : [branch('attributes', attributes)]),
      ...(index === 0 ? [branch('sound', [], sound)] : []),
      ...content,
    ],
    { number: index + 1 },
  );
}

function beatElements({ notes, tuplet }: LineBeat, perBeat: number): readonly string[] {
  const isBeamed =
    notes.length > 1 &&
    notes.every(({ name, value }) => name !== null && value === notes[0]?.value);
  return notes.map(({ name, value, length }, index) => {
    const { type, isDotted, beams } = WRITTEN[value];
    return branch('note', [
      name === null ? branch('rest', []) : pitchElement(name),
      leaf('duration', Math.round(perBeat * length)),
      leaf('voice', 1),
      leaf('type', type),
      ...(isDotted ? [branch('dot', [])] : []),
      ...(tuplet === null
        ? []
        : [
            branch('time-modification', [
              leaf('actual-notes', tuplet.played),
              leaf('normal-notes', tuplet.inTimeOf),
            ]),
          ]),
      ...(isBeamed ? beamElements(beams, index, notes.length) : []),
      ...(tuplet === null ? [] : tupletSign(index, notes.length)),
    ]);
  });
}

function pitchElement(name: string): string {
  const [, step = 'C', sign = '', octave = '4'] = /^([A-G])(b*|#*)(-?\d+)$/u.exec(name) ?? [];
  const alter = sign.startsWith('b') ? -sign.length : sign.length;
  return branch('pitch', [
    leaf('step', step),
    ...(alter === 0 ? [] : [leaf('alter', alter)]),
    leaf('octave', octave),
  ]);
}

function beamElements(count: number, index: number, notes: number): readonly string[] {
  const state = index === 0 ? 'begin' : index === notes - 1 ? 'end' : 'continue';
  return Array.from({ length: count }, (_, beam) => leaf('beam', state, { number: beam + 1 }));
}

function tupletSign(index: number, notes: number): readonly string[] {
  const type = index === 0 ? 'start' : index === notes - 1 ? 'stop' : null;
  return type === null ? [] : [branch('notations', [branch('tuplet', [], { type })])];
}
