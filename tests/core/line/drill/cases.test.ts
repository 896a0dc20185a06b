/** Each drill worked out note by note from its definition; where a drill ends; where it begins; half notes on paper. */

import { describe, expect, test } from 'vitest';
import {
  DRILL_STYLES,
  DRILLS,
  type DrillWish,
  describeDrillProblem,
  drillOf,
  writeDrill,
} from '../../../../src/core/line/index.ts';
import { lineMeasures } from '../../../../src/core/score/index.ts';
import { drillText, formFrom, gradeDrill, WISH } from './drilling.ts';

const OCTAVE: Partial<DrillWish> = { register: { lowestMidi: 60, highestMidi: 72 } };
const LOW: Partial<DrillWish> = { register: { lowestMidi: 58, highestMidi: 72 } };

describe('by hand', () => {
  test.each([
    [
      'continuous scale: up to the end of the register, and the new palette met on the way down',
      ['| Cmaj7 | Cm7 |', 'continuousScale', OCTAVE],
      // C dorian from the ninth note on.
      'C4 D4 E4 F4 G4 A4 B4 C5 Bb4 A4 G4 F4 Eb4 D4 C4 D4',
    ],
    [
      'continuous scale: from a tone the new palette lacks to its next one in the same direction',
      ['| C <C E G B> | Db <Db F Ab C> |', 'continuousScale', { slotsPerBeat: 1, ...OCTAVE }],
      'C4 E4 G4 B4 C5 Ab4 F4 Db4',
    ],
    [
      'ascending: an octave down where the register ends',
      ['| C | F7 <mixolydian> |', 'ascending', { register: { lowestMidi: 60, highestMidi: 71 } }],
      'C4 D4 E4 F4 G4 A4 B4 C4 D4 Eb4 F4 G4 A4 Bb4 C4 D4',
    ],
    [
      'ascending: down in parts, each by less than an octave, where the register has room for two',
      ['| C | C | C |', 'ascending', { register: { lowestMidi: 60, highestMidi: 83 } }],
      'C4 D4 E4 F4 G4 A4 B4 C5 D5 E5 F5 G5 A5 B5 C5 D5 E5 F5 G4 A4 B4 C5 D5 E5',
    ],
    [
      'ascending: down in parts over few tones',
      [
        '| C <C E G> | C <C E G> |',
        'ascending',
        { slotsPerBeat: 1, register: { lowestMidi: 55, highestMidi: 82 } },
      ],
      'G3 C4 E4 G4 C5 E5 G5 C5',
    ],
    [
      'broken thirds: turned where no third is left',
      ['| C | C |', 'brokenThirds', OCTAVE],
      'C4 E4 D4 F4 E4 G4 F4 A4 G4 B4 A4 C5 B4 G4 A4 F4',
    ],
    [
      'broken sevenths: roots turned where no chord has room',
      ['| C | C | C |', 'brokenSevenths', { register: { lowestMidi: 59, highestMidi: 72 } }],
      'B3 D4 F4 A4 C4 E4 G4 B4 D4 F4 A4 C5 C4 E4 G4 B4 B3 D4 F4 A4 C4 E4 G4 B4',
    ],
    [
      'enclosures: scale above, half step below, then the chord tone; the scale between',
      ['| C | F7 <mixolydian> |', 'enclosures', WISH],
      // Targets C E F A on beats 1 and 3, each after a scale tone, its upper neighbour and its half step below.
      'C4 D4 F4 D#4 E4 F4 G4 E4 F4 G4 Bb4 G#4 A4 Bb4 C5 D5',
    ],
    [
      'guide tones: the common tone held, then the other one; falling by half steps',
      ['| Dm7 | G7 | C6 |', 'guideTones', { startMidi: 65, ...LOW }],
      'F4 C4 B3 F4 E4 A4',
    ],
    [
      'guide tones: a voice that steps out below goes on an octave higher, where else it would leap',
      [
        '| Dm7 G7 |',
        'guideTones',
        { startMidi: 60, register: { lowestMidi: 60, highestMidi: 76 } },
      ],
      'C4 B4',
    ],
    [
      'guide tones: a third that stays inside is no leap, and is taken',
      [
        '| Dm7 Bm7 |',
        'guideTones',
        { startMidi: 65, register: { lowestMidi: 65, highestMidi: 81 } },
      ],
      'F4 A4',
    ],
    [
      'guide tones: a voice that steps out above goes on an octave lower',
      ['| F7 C7 |', 'guideTones', { startMidi: 69, register: { lowestMidi: 55, highestMidi: 69 } }],
      'A4 Bb3',
    ],
    [
      'guide tones in three: a half note and a quarter',
      ['| Dm7 | G7 |', 'guideTones', { startMidi: 65, ...LOW }],
      'F4 C4 B3 F4',
    ],
  ] as const)('%s', (title, [bars, style, wish], expected) => {
    const meter = title.includes('in three') ? '3/4' : '4/4';
    expect(drillText(formFrom(bars, meter), style, wish)).toBe(expected);
  });

  test('a two-way palette turns on a tone of the form it leaves by', () => {
    const form = formFrom('| Cm6 <melodic minor up and down> | % | % |');
    expect(
      drillText(form, 'continuousScale', { register: { lowestMidi: 60, highestMidi: 71 } }),
    ).toBe('C4 D4 Eb4 F4 G4 A4 Bb4 Ab4 G4 F4 Eb4 D4 C4 D4 Eb4 F4 G4 A4 Bb4 Ab4 G4 F4 Eb4 D4');
  });
});

describe('the beginning', () => {
  const form = formFrom('| Dm7 | G7 |');

  test.each([
    ['continuousScale', { startMidi: 67 }, 'G4'],
    ['ascending', { startMidi: 79 }, 'G5'],
    ['brokenThirds', { startMidi: 79 }, 'G5'],
    ['brokenSevenths', { startMidi: 64 }, 'E4'],
    ['approachNotes', { startMidi: 69 }, 'A4'],
    ['enclosures', { startMidi: 72 }, 'C5'],
    ['guideTones', { startMidi: 77 }, 'F5'],
    // The tone nearest to the key before, another one than it, the higher at a tie.
    ['continuousScale', { afterMidi: 66 }, 'G4'],
    ['continuousScale', { afterMidi: 40 }, 'C4'],
    ['brokenThirds', { afterMidi: 71 }, 'C5'],
    ['approachNotes', { afterMidi: 68 }, 'A4'],
    ['guideTones', { afterMidi: 70 }, 'C5'],
  ] as const)('of %s with %o is %s', (style, wish, first) => {
    expect(drillText(form, style, wish).split(' ')[0]).toBe(first);
  });

  test.each(DRILL_STYLES)('of %s on a key it cannot have is told', (style) => {
    expect(drillText(form, style, { startMidi: 66 })).toBe('start 1.1+0');
    expect(drillText(form, style, { startMidi: 59 })).toBe('wish');
  });

  test('seeds choose approach notes and where guide tones begin, nothing else', () => {
    for (const style of DRILL_STYLES) {
      const lines = Array.from({ length: 12 }, (_, seed) => drillText(form, style, { seed }));
      const isChosen = style === 'approachNotes' || style === 'guideTones';
      expect([style, new Set(lines).size > 1]).toEqual([style, isChosen]);
    }
  });
});

describe('where a drill ends', () => {
  test.each([
    ['bars without a chord', 'continuousScale', '| N.C. |', {}, 'noChord 1.1+0'],
    [
      'no bars of a palette',
      'continuousScale',
      '| C | F# <F# A#> |',
      narrow(60, 65),
      'register 2.1+0',
    ],
    ['one tone', 'continuousScale', '| C | C7 <C G> |', narrow(60, 64), 'oneTone 2.1+1'],
    ['no octave', 'ascending', '| C |', narrow(60, 69), 'span 1.4+0'],
    [
      'two tones in broken thirds',
      'brokenThirds',
      '| C | C7 <C Bb> |',
      narrow(60, 72),
      'span 2.2+1',
    ],
    ['no room for a seventh', 'brokenSevenths', '| C |', narrow(60, 70), 'span 1.1+0'],
    ['a chord beside its palette', 'approachNotes', '| C | C <Db Eb Gb> |', {}, 'chordTone 2.1+0'],
    ['no room below the only other tone', 'enclosures', '| C |', narrow(60, 64), 'span 1.3+0'],
    ['a chord without guide tones', 'guideTones', '| Dm7 | C5 |', {}, 'guideTone 2.1+0'],
  ] as const)('%s: %s', (_, style, bars, wish, expected) => {
    const form = formFrom(bars);
    expect(drillText(form, style, wish)).toBe(expected);
  });

  test('is said in words with place and remedy', () => {
    const drill = writeDrill(formFrom('| C |'), 'brokenSevenths', { ...WISH, ...narrow(60, 70) });
    expect(drill.ok ? [] : drill.problems.map(describeDrillProblem)).toEqual([
      'Broken seventh chords, Chorus 1, bar 1, beat 1 (C): the figure over C ionian does not fit in the register. Widen the register, or choose a fuller palette.',
    ]);
  });

  test('a wish no drill could meet, no bars, and too many notes are told as for any line', () => {
    const form = formFrom('| C |');
    expect(drillText(form, 'ascending', { swing: 0.5 })).toBe('wish');
    expect(drillText({ ...form, bars: [] }, 'ascending')).toBe('noBars');
    expect(drillText(form, 'ascending', { choruses: 4096 })).toBe('tooLong');
  });
});

function narrow(lowestMidi: number, highestMidi: number): Partial<DrillWish> {
  return { register: { lowestMidi, highestMidi } };
}

describe('levels', () => {
  test('a thin palette takes the level that lets its gaps pass', () => {
    const level = (bars: string, style: 'continuousScale' | 'brokenThirds') => {
      const drill = writeDrill(formFrom(bars), style, WISH);
      return drill.ok ? drill.value.level : null;
    };
    expect(level('| C |', 'continuousScale')).toBe('steps');
    // E4 to B4, a palette tone from a key the palette lacks: a fifth.
    expect(level('| C <C E> | B <B Db> |', 'continuousScale')).toBe('leaps');
    expect(level('| C |', 'brokenThirds')).toBe('thirds');
  });

  test('at steps an approach drill has its chromatic notes outside and its skips as intervals', () => {
    const form = formFrom('| Cmaj7 |');
    const drill = writeDrill(form, 'enclosures', WISH);
    if (!drill.ok) throw new Error('no drill');
    // C4 D4 F4 Eb4 E4 F4 G4 A4: a skip to the upper neighbour, and a chromatic lower one.
    expect(gradeDrill(form, drill.value, 'steps').slots.map(({ faults }) => faults.join())).toEqual(
      ['', '', 'interval', 'outside', '', '', '', ''],
    );
  });
});

describe('the list for a screen', () => {
  test('has every style once, with its own name and description', () => {
    expect(DRILLS.map(({ style }) => style)).toEqual(DRILL_STYLES);
    for (const style of DRILL_STYLES) expect(drillOf(style).style).toBe(style);
    for (const field of ['name', 'about', 'graded'] as const) {
      expect(new Set(DRILLS.map((drill) => drill[field])).size).toBe(DRILLS.length);
    }
  });
});

describe('half notes on paper', () => {
  test.each([
    ['4/4', ['half half']],
    ['3/4', ['half quarter']],
    ['12/8', ['dottedHalf dottedHalf']],
    ['5/4', ['half half quarter']],
  ])('in %s are %s', (meter, values) => {
    const form = formFrom('| Dm7 |', meter);
    const drill = writeDrill(form, 'guideTones', WISH);
    if (!drill.ok) throw new Error('no drill');
    const written = lineMeasures(form, drill.value).map(({ beats }) =>
      beats.flatMap(({ notes }) => notes.map(({ value }) => value)).join(' '),
    );
    expect(written).toEqual(values);
  });
});
