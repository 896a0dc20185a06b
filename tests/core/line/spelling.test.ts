/**
 * How written lines are spelled in every key: by the names of the key's own signature, as the palettes are. The seven names
 * are made here from the order of sharps and flats alone. Common practice, no source; F C G D A E B, flats the other way.
 */

import { describe, expect, test } from 'vitest';
import type { Form } from '../../../src/core/chart/index.ts';
import {
  DRILL_STYLES,
  type WrittenLine,
  writeDrill,
  writeLine,
} from '../../../src/core/line/index.ts';
import { lineMeasures, writeScoreMusicXml } from '../../../src/core/score/index.ts';
import { LEVELS } from '../../../src/core/words.ts';
import { runs } from '../../helpers/runs.ts';
import { chartOf, formOf } from '../chart/reading.ts';

const SHARPS = 'FCGDAEB';
const LETTERS = 'CDEFGAB';

/** Signature of each key: sharps, flats negative. */
const MAJOR: Readonly<Record<string, number>> = {
  ...{ Cb: -7, Gb: -6, Db: -5, Ab: -4, Eb: -3, Bb: -2, F: -1, C: 0 },
  ...{ G: 1, D: 2, A: 3, E: 4, B: 5, 'F#': 6, 'C#': 7 },
};
const MINOR: Readonly<Record<string, number>> = {
  ...{ Ab: -7, Eb: -6, Bb: -5, F: -4, C: -3, G: -2, D: -1, A: 0 },
  ...{ E: 1, B: 2, 'F#': 3, 'C#': 4, 'G#': 5, 'D#': 6, 'A#': 7 },
};

/** The seven names of a key from its tonic upwards. */
function namesOf(tonic: string, signature: number): readonly string[] {
  const altered = signature < 0 ? SHARPS.slice(signature) : SHARPS.slice(0, signature);
  const sign = signature < 0 ? 'b' : '#';
  const from = LETTERS.indexOf(tonic.charAt(0));
  return Array.from({ length: 7 }, (_, step) => {
    const letter = LETTERS.charAt((from + step) % 7);
    return altered.includes(letter) ? letter + sign : letter;
  });
}

const WISH = {
  ...{
    choruses: 1,
    slotsPerBeat: null,
    swing: 1,
    density: 0.5,
    startMidi: null,
    style: 'teaching' as const,
    direction: 0,
  },
  register: { lowestMidi: 53, highestMidi: 84 },
};

const SEEDS = [1, 2, 3].slice(0, runs(3));

const written = new WeakMap<Form, readonly WrittenLine[]>();

/** Lines of every level and drill over a form, written once. */
function linesOver(form: Form): readonly WrittenLine[] {
  const lines = written.get(form) ?? writeLines(form);
  written.set(form, lines);
  return lines;
}

function writeLines(form: Form): readonly WrittenLine[] {
  const outcomes = SEEDS.flatMap((seed) => [
    ...LEVELS.map((level) => writeLine(form, { ...WISH, level, seed })),
    ...DRILL_STYLES.map((style) => writeDrill(form, style, { ...WISH, seed })),
  ]);
  return outcomes.map((outcome) => {
    if (!outcome.ok) throw new Error(`no line: ${JSON.stringify(outcome.problems)}`);
    return outcome.value;
  });
}

/** Names of the notes of a line that lie in the palette of their chord, and of the others. */
function spelledBy(form: Form, line: WrittenLine) {
  const beats = form.bars.flatMap(({ chords }) =>
    chords.flatMap((chord) => Array.from({ length: chord.beats }, () => chord)),
  );
  return line.notes.map(({ name, midi, onsetBeats }) => {
    const notes = beats[Math.floor(onsetBeats + 1e-9)]?.chosen?.palette;
    const isInside = notes?.pcs.includes(midi % 12) ?? false;
    return { name: name.replace(/-?\d+$/u, ''), isInside, palette: notes?.notes ?? [] };
  });
}

describe.each(Object.entries(MAJOR))('in %s major', (tonic, signature) => {
  const [one, two, three, , five, six] = namesOf(tonic, signature);
  const form = formOf(
    chartOf(
      `title: a\nkey: ${tonic}\nmeter: 4/4\n| ${one}maj7 | ${two}m7 ${five}7 | ${three}m7 | ${six}m7 |\n`,
    ),
  );

  test('every note in its palette has one of the seven names of the key', () => {
    const inside = linesOver(form).flatMap((line) =>
      spelledBy(form, line).flatMap(({ isInside, name }) => (isInside ? [name] : [])),
    );
    expect([...new Set(inside)].sort()).toEqual([...namesOf(tonic, signature)].sort());
  });

  test('the staff and the score file show the names of the line', () => {
    for (const line of linesOver(form)) {
      const closing = line.closing === null ? [] : [line.closing];
      const names = [...line.notes, ...closing].map(({ name }) => name);
      const measures = lineMeasures(form, line);
      const onStaff = measures.flatMap(({ beats }) =>
        beats.flatMap(({ notes }) =>
          notes.flatMap(({ name, tiedFrom }) => (tiedFrom ? [] : (name ?? []))),
        ),
      );
      expect(onStaff).toEqual(names);
      const struck = writeScoreMusicXml(form, measures, 'A line', 60)
        .split('<note>')
        .filter((note) => !note.includes('<tie type="stop"/>'))
        .join();
      const pitches = struck.matchAll(
        /<step>([A-G])<\/step>\s*(?:<alter>(-?\d)<\/alter>\s*)?<octave>(\d)<\/octave>/gu,
      );
      const written = [...pitches].map(([, step = '', alter = '0', octave = '']) => {
        const sign = Number(alter) < 0 ? 'b' : '#';
        return step + sign.repeat(Math.abs(Number(alter))) + octave;
      });
      expect(written).toEqual(names);
    }
  });
});

describe.each(Object.entries(MINOR))('in %s minor', (tonic, signature) => {
  const [one, , three, four, , six] = namesOf(tonic, signature);
  const form = formOf(
    chartOf(
      `title: a\nkey: ${tonic}m\nmeter: 4/4\n| ${one}m7 <aeolian> | ${four}m7 <dorian> | ${three}maj7 <ionian> ${six}maj7 <lydian> |\n`,
    ),
  );

  test('every note in its palette has one of the seven names of the key', () => {
    const inside = linesOver(form).flatMap((line) =>
      spelledBy(form, line).flatMap(({ isInside, name }) => (isInside ? [name] : [])),
    );
    expect([...new Set(inside)].sort()).toEqual([...namesOf(tonic, signature)].sort());
  });
});

describe('beyond the signature', () => {
  const keys = [
    ...Object.keys(MAJOR).map((tonic) => [tonic, MAJOR[tonic] ?? 0] as const),
    ...Object.keys(MINOR).map((tonic) => [`${tonic}m`, MINOR[tonic] ?? 0] as const),
  ];

  test.each(keys)(
    'in %s, over dominants of every colour, notes are named as in their palette',
    (key, signature) => {
      const [, , , , five, six] = namesOf(key.replace('m', ''), signature);
      const form = formOf(
        chartOf(
          `title: a\nkey: ${key}\nmeter: 4/4\n| ${five}7 <phrygian dominant> | ${five}7 <altered> | ${six}7 <lydian dominant> | ${five}7 <half-whole diminished> |\n`,
        ),
      );
      for (const line of linesOver(form)) {
        for (const { isInside, name, palette } of spelledBy(form, line)) {
          if (isInside) expect(palette).toContain(name);
          // Own rule: no reader meets a double accidental.
          expect(name).toMatch(/^[A-G][b#]?$/u);
        }
      }
    },
  );
});
