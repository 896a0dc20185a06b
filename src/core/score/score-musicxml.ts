/** Notes over chords as a MusicXML score, the form unrolled. Source: MusicXML 4.0, `note`, `tie`, `time-modification`. */

import { type Form, quartersPerBeat } from '../chart/index.ts';
import { harmonyElement, keyElement, timeElement } from '../chart/musicxml/elements.ts';
import { branch, leaf } from '../chart/musicxml/xml-text.ts';
import type { Measure, MeasureBeat, MeasureNote } from './measures.ts';
import type { NoteValue, TupletRatio } from './note-values.ts';

/** Divisions of a quarter: every twelfth of a beat, dotted ones too, is a whole number of them. */
const DIVISIONS = 24;

/** How a value is written: its type, whether dotted, and how many beams it has in a group. */
const WRITTEN: Readonly<
  Record<NoteValue, { readonly type: string; readonly isDotted: boolean; readonly beams: number }>
> = {
  dottedHalf: { type: 'half', isDotted: true, beams: 0 },
  half: { type: 'half', isDotted: false, beams: 0 },
  dottedQuarter: { type: 'quarter', isDotted: true, beams: 0 },
  quarter: { type: 'quarter', isDotted: false, beams: 0 },
  dottedEighth: { type: 'eighth', isDotted: true, beams: 1 },
  eighth: { type: 'eighth', isDotted: false, beams: 1 },
  sixteenth: { type: '16th', isDotted: false, beams: 2 },
  thirtySecond: { type: '32nd', isDotted: false, beams: 3 },
};

/** Writes measures over the form they come from, under a title, at a tempo in beats per minute. */
export function writeScoreMusicXml(
  form: Form,
  measures: readonly Measure[],
  title: string,
  tempoBpm: number,
): string {
  const score = branch(
    'score-partwise',
    [
      branch('work', [leaf('work-title', title)]),
      branch('identification', [branch('encoding', [leaf('software', 'Linekeeper')])]),
      branch('part-list', [branch('score-part', [leaf('part-name', 'Line')], { id: 'P1' })]),
      branch(
        'part',
        measures.map((measure, index) => measureElement(form, measure, index, tempoBpm)),
        { id: 'P1' },
      ),
    ],
    { version: '4.0' },
  );
  return `<?xml version="1.0" encoding="UTF-8" standalone="no"?>\n${score}\n`;
}

function measureElement(
  form: Form,
  { meter, meterSign, chords, beats }: Measure,
  index: number,
  tempoBpm: number,
): string {
  const perBeat = quartersPerBeat(meter) * DIVISIONS;
  const attributes = [
    ...(index === 0 ? [leaf('divisions', DIVISIONS), keyElement(form.key)] : []),
    ...(meterSign === null ? [] : [timeElement(meter)]),
  ];
  const sound = { tempo: tempoBpm * quartersPerBeat(form.meter) };
  // What has been written when a beat begins: more than the beats before it where a longer note goes on.
  let written = 0;
  const content = beats.flatMap((beat, at) => {
    const offset = Math.round((at - written) * perBeat);
    written += beat.notes.reduce((sum, { length }) => sum + length, 0);
    return [
      ...chords
        .filter((chord) => chord.beat === at + 1)
        .map(({ symbol }) => harmonyElement(symbol, offset)),
      ...beatElements(beat, perBeat),
    ];
  });
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

function beatElements({ notes, tuplet }: MeasureBeat, perBeat: number): readonly string[] {
  const isBeamed =
    notes.length > 1 &&
    notes.every(({ name, value }) => name !== null && value === notes[0]?.value);
  return notes.map((note, index) => {
    const { name, value, length, tiedFrom, tiedTo } = note;
    const { type, isDotted, beams } = WRITTEN[value];
    return branch('note', [
      name === null ? branch('rest', []) : pitchElement(name),
      leaf('duration', Math.round(perBeat * length)),
      ...(tiedFrom ? [branch('tie', [], { type: 'stop' })] : []),
      ...(tiedTo ? [branch('tie', [], { type: 'start' })] : []),
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
      ...notations(note, tuplet, index, notes.length),
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

function notations(
  { tiedFrom, tiedTo }: MeasureNote,
  tuplet: TupletRatio | null,
  index: number,
  notes: number,
): readonly string[] {
  const bracket = index === 0 ? 'start' : index === notes - 1 ? 'stop' : null;
  const signs = [
    ...(tiedFrom ? [branch('tied', [], { type: 'stop' })] : []),
    ...(tiedTo ? [branch('tied', [], { type: 'start' })] : []),
    ...(tuplet === null || bracket === null ? [] : [branch('tuplet', [], { type: bracket })]),
  ];
  return signs.length === 0 ? [] : [branch('notations', signs)];
}
