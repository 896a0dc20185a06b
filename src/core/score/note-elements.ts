/** Notes of a beat as elements of a MusicXML score. Source: MusicXML 4.0, `note`, `tie`, `time-modification`. */

import { branch, leaf } from '../chart/musicxml/xml-text.ts';
import type { MeasureBeat, MeasureNote } from './measures.ts';
import type { NoteValue, TupletRatio } from './note-values.ts';

/** Divisions of a quarter: every twelfth of a beat, dotted ones too, is a whole number of them. */
export const DIVISIONS = 24;

/** How a value is written: its type, whether dotted, and how many beams it has in a group. */
const WRITTEN: Readonly<
  Record<NoteValue, { readonly type: string; readonly isDotted: boolean; readonly beams: number }>
> = {
  whole: { type: 'whole', isDotted: false, beams: 0 },
  dottedHalf: { type: 'half', isDotted: true, beams: 0 },
  half: { type: 'half', isDotted: false, beams: 0 },
  dottedQuarter: { type: 'quarter', isDotted: true, beams: 0 },
  quarter: { type: 'quarter', isDotted: false, beams: 0 },
  dottedEighth: { type: 'eighth', isDotted: true, beams: 1 },
  eighth: { type: 'eighth', isDotted: false, beams: 1 },
  sixteenth: { type: '16th', isDotted: false, beams: 2 },
  thirtySecond: { type: '32nd', isDotted: false, beams: 3 },
  sixtyFourth: { type: '64th', isDotted: false, beams: 4 },
};

/** The notes and rests of one beat, which is so many divisions long. */
export function beatElements({ notes, tuplet }: MeasureBeat, perBeat: number): readonly string[] {
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
  // One note alone, in a pickup, has nothing to put a bracket around.
  const isBracketed = tuplet !== null && notes > 1;
  const bracket = index === 0 ? 'start' : index === notes - 1 ? 'stop' : null;
  const signs = [
    ...(tiedFrom ? [branch('tied', [], { type: 'stop' })] : []),
    ...(tiedTo ? [branch('tied', [], { type: 'start' })] : []),
    ...(!isBracketed || bracket === null ? [] : [branch('tuplet', [], { type: bracket })]),
  ];
  return signs.length === 0 ? [] : [branch('notations', signs)];
}
