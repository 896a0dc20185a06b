/**
 * Melodies of scores: read over the bars of their charts, told of where they cannot be, and written as they were read.
 * Elements and their meaning: MusicXML 4.0 (W3C Music Notation Community Group, 2021); the snippets are hand-written
 * after its documentation. Places in twelfths of a beat are worked out by hand.
 */

import fc from 'fast-check';
import { strToU8 } from 'fflate';
import { describe, expect, test } from 'vitest';
import { type Chart, parseChart } from '../../../../src/core/chart/index.ts';
import {
  describeMusicXmlNotice,
  readMusicXml,
  writeMusicXml,
} from '../../../../src/core/chart/musicxml/index.ts';
import { fitMelody, type Melody, melodyBars } from '../../../../src/core/melody/index.ts';
import { keyFifths } from '../../../../src/core/theory/index.ts';
import { arbitraryChart } from '../../../helpers/arbitrary-chart.ts';
import { arbitraryMelody, withOnePickup } from '../../../helpers/arbitrary-melody.ts';
import { runs } from '../../../helpers/runs.ts';
import { chartOf } from '../reading.ts';

function read(xml: string) {
  const score = readMusicXml(strToU8(xml));
  if (!score.ok) throw new Error(JSON.stringify(score.problems));
  const { chart, melody, notices } = score.value;
  return { chart, melody, told: notices.map(describeMusicXmlNotice) };
}

/** Six divisions to the quarter; a chord over the first measure. */
function score(measures: readonly string[], pickup: string | null = null, beats = 4): string {
  const attributes = `<attributes><divisions>6</divisions><key><fifths>0</fifths></key><time><beats>${beats}</beats><beat-type>4</beat-type></time></attributes>`;
  const chord = '<harmony><root><root-step>C</root-step></root><kind>major</kind></harmony>';
  const bars = measures.map(
    (inner, index) =>
      `<measure number="${index + 1}">${index === 0 ? `${pickup === null ? attributes : ''}${chord}` : ''}${inner}</measure>`,
  );
  const before =
    pickup === null ? '' : `<measure number="0" implicit="yes">${attributes}${pickup}</measure>`;
  return `<score-partwise version="4.0"><part-list/><part id="P1">${before}${bars.join('')}</part></score-partwise>`;
}

/** A note by its name, its length in divisions, and what else stands in it. */
function note(name: string, duration: number, rest = '', before = ''): string {
  const [, step = '', sign = '', octave = ''] = /^([A-G])([b#]?)(\d)$/u.exec(name) ?? [];
  const alter = sign === '' ? '' : `<alter>${sign === 'b' ? -1 : 1}</alter>`;
  return `<note>${before}<pitch><step>${step}</step>${alter}<octave>${octave}</octave></pitch><duration>${duration}</duration>${rest}</note>`;
}
const rest = (duration: number) => `<note><rest/><duration>${duration}</duration></note>`;
const tie = (type: string) => `<tie type="${type}"/>`;

/** `60 +12` style: from, length and name of each sound. */
function soundsOf(melody: Melody | null): readonly string[] {
  return (melody?.sounds ?? []).map(({ from, length, name }) => `${from} ${length} ${name}`);
}

describe('a melody is read', () => {
  test('note for note with its names, rests left out', () => {
    const { melody, told } = read(
      score([note('E4', 6) + rest(3) + note('Eb4', 3) + note('F#5', 12), rest(24)]),
    );
    expect(soundsOf(melody)).toEqual(['0 12 E4', '18 6 Eb4', '24 24 F#5']);
    expect(melody).toMatchObject({ leadIn: 0, fifths: 0 });
    expect(melody?.bars).toEqual(Array(2).fill({ meter: '4/4', roots: [0, 0, 0, 0] }));
    expect(told).toEqual([]);
  });

  test('with its pickup before the first downbeat, a tie out of it joined', () => {
    const { melody, told } = read(
      score([note('G4', 12, tie('stop')) + rest(12)], note('D4', 3) + note('G4', 3, tie('start'))),
    );
    expect(melody?.leadIn).toBe(12);
    expect(soundsOf(melody)).toEqual(['-12 6 D4', '-6 30 G4']);
    expect(told).toEqual([]);
  });

  test('ties over bar lines joined, those by sign alone too; one from nowhere is told of', () => {
    const tied = (type: string) => `<notations><tied type="${type}"/></notations>`;
    const { melody, told } = read(
      score([
        rest(18) + note('A4', 6, tied('start')),
        note('A4', 12, tied('stop')) + note('B4', 12, tie('stop')),
      ]),
    );
    expect(soundsOf(melody)).toEqual(['36 36 A4', '72 24 B4']);
    expect(told).toEqual(['Measure 2: one note with a tie from nowhere was written without it.']);
  });

  test('triplets exactly, quintuplets moved to twelfths and told of', () => {
    const triplet = note('C5', 2) + note('D5', 2) + note('E5', 2);
    const fifths = ['C5', 'D5', 'E5', 'F5', 'G5'].map((name) => note(name, 1.2)).join('');
    const { melody, told } = read(score([triplet + rest(18), fifths + rest(18)]));
    expect(soundsOf(melody)).toEqual([
      ...['0 4 C5', '4 4 D5', '8 4 E5'],
      // 2.4, 4.8, 7.2 and 9.6 twelfths.
      ...['48 2 C5', '50 3 D5', '53 2 E5', '55 3 F5', '58 2 G5'],
    ]);
    expect(told).toEqual(['Measure 2: 5 notes were moved to the nearest twelfth of a beat.']);
  });

  test('in a compound meter by dotted quarters', () => {
    const { melody } = read(
      score([note('C5', 3) + note('D5', 3) + note('E5', 3) + note('F5', 9)]).replace(
        '<beats>4</beats><beat-type>4',
        '<beats>6</beats><beat-type>8',
      ),
    );
    expect(soundsOf(melody)).toEqual(['0 4 C5', '4 4 D5', '8 4 E5', '12 12 F5']);
  });

  test('of voice 1, and of notes struck together the highest; the others are told of', () => {
    const voice = (number: number) => `<voice>${number}</voice>`;
    const { melody, told } = read(
      score([
        note('C4', 24, voice(1)) +
          note('E4', 24, voice(1), '<chord/>') +
          note('A3', 24, voice(1), '<chord/>') +
          '<backup><duration>24</duration></backup>' +
          note('G5', 24, voice(2)),
      ]),
    );
    expect(soundsOf(melody)).toEqual(['0 48 E4']);
    expect(told).toEqual([
      'Measure 1: one note of other voices was left out.',
      'Measure 1: 2 notes below another of the melody were left out.',
    ]);
  });

  test('without grace notes, words, signs and keys that do not exist, all told of', () => {
    const { melody, told } = read(
      score([
        '<note><grace/><pitch><step>D</step><octave>5</octave></pitch></note>' +
          note('C5', 6, '<lyric><text>la</text></lyric>') +
          note('D5', 6, '<notations><slur type="start"/></notations>') +
          '<note><unpitched/><duration>6</duration></note>' +
          '<note><pitch><step>E</step><alter>-0.5</alter><octave>5</octave></pitch><duration>6</duration></note>',
      ]),
    );
    expect(soundsOf(melody)).toEqual(['0 12 C5', '12 12 D5', '36 12 E5']);
    expect(told).toEqual([
      'Measure 1: one note of grace was left out.',
      'Measure 1: the words under one note were left out.',
      'Measure 1: slurs, articulations and other signs of one note were left out.',
      'Measure 1: one note without a pitch that keys have was left out.',
      'Measure 1: one note between the keys was taken as the nearest key.',
    ]);
  });

  test('of the first part with notes, though the chords stand in another', () => {
    const lower = `<part id="P2"><measure number="1">${note('C3', 4)}</measure></part>`;
    const own = score([note('C5', 24)]).replace('</part>', `</part>${lower}`);
    const chords = score([rest(24)]).replace(
      '</part>',
      `</part><part id="P2"><measure number="1"><attributes><divisions>1</divisions></attributes>${note('C3', 4)}</measure></part>`,
    );
    const first = read(own);
    expect(soundsOf(first.melody)).toEqual(['0 48 C5']);
    expect(first.told).toContain(
      'the melody is that of part 1; notes of other parts, 1 of them, were left out.',
    );
    expect(soundsOf(read(chords).melody)).toEqual(['0 48 C3']);
  });

  test('up to the bar line of a measure that is too full, and with rests in one that is not full', () => {
    const { melody, told } = read(
      score([note('C5', 18) + note('D5', 12) + note('E5', 6), note('F5', 6)]),
    );
    expect(soundsOf(melody)).toEqual(['0 36 C5', '36 12 D5', '48 12 F5']);
    expect(told).toEqual([
      'Measure 1: one note was cut where the next one or the bar line comes.',
      'Measure 1: one note beyond the end of an overfull measure was left out.',
      'Measure 2: the melody is shorter than the measure; what is missing was taken as a rest.',
    ]);
  });
});

describe('there and back', () => {
  const there = (chart: Chart, melody: Melody) => read(writeMusicXml(chart, melody));

  test('a melody with pickup, ties, triplets and repeats is the same chart and the same melody', () => {
    const chart = chartOf(
      'title: Attic Door\nkey: Eb\nmeter: 4/4\ntempo: 96\npickup: 3/8 Fm7 Bb7\n[A]\n|: Ebmaj7 Cm7 | % |1 Fm7 Bb7 :|2 Eb6 ||\n\nplan: two\n| % | Ab7 | % | % |\n',
    );
    const melody: Melody = {
      leadIn: 18,
      fifths: keyFifths(chart.key),
      bars: melodyBars(chart),
      sounds: [
        { from: -18, length: 6, name: 'Bb4' },
        { from: -12, length: 12, name: 'C5' },
        { from: 0, length: 4, name: 'D5' },
        { from: 4, length: 8, name: 'Eb5' },
        { from: 18, length: 54, name: 'G5' },
        { from: 96, length: 1, name: 'F#4' },
        { from: 100, length: 44, name: 'Gb4' },
        { from: 144, length: 48, name: 'Eb5' },
      ],
    };
    expect(there(chart, melody)).toEqual({ chart, melody, told: [] });
  });

  test('every melody over every chart', () => {
    const both = arbitraryChart().chain((chart) =>
      arbitraryMelody(chart).map((melody) => ({ chart, melody })),
    );
    fc.assert(
      fc.property(both, ({ chart, melody }) => {
        expect(there(chart, melody)).toEqual({ ...withOnePickup(chart, melody), told: [] });
      }),
      { numRuns: runs(100, 30), seed: 20_261_129 },
    );
  });

  test('without our own field the chords under it are still the chart’s, repeated bars written out', () => {
    const chart = chartOf('title: a\nkey: C\nmeter: 3/4\n| C / G7 | % | F |\n');
    const melody: Melody = {
      ...{ leadIn: 0, fifths: 0, bars: melodyBars(chart) },
      sounds: [{ from: 36, length: 36, name: 'C5' }],
    };
    const bare = writeMusicXml(chart, melody).replace(/<miscellaneous>.*?<\/miscellaneous>/su, '');
    const back = read(bare);
    expect(melodyBars(back.chart)).toEqual(melodyBars(chart));
    expect(back.melody).toEqual(melody);
  });
});

describe('a melody over a chart that was changed', () => {
  const before = chartOf('title: a\nkey: C\nmeter: 4/4\n| C | Am | Dm | G7 |\n');
  const melody: Melody = {
    ...{ leadIn: 0, fifths: 0, bars: melodyBars(before) },
    sounds: [
      { from: 0, length: 12, name: 'B4' },
      { from: 12, length: 12, name: 'F#4' },
    ],
  };
  const over = (bars: string, key = 'C', meter = '4/4') => {
    const parsed = parseChart(`title: a\nkey: ${key}\nmeter: ${meter}\n${bars}\n`);
    if (!parsed.ok) throw new Error(bars);
    const fitted = fitMelody(parsed.value, melody);
    return fitted.ok ? fitted.value.sounds.map(({ name }) => name) : fitted.problems;
  };

  test('moves with the key of the chart, and stays when only its chords are others', () => {
    expect(over('| Eb | Cm | Fm | Bb7 |', 'Eb')).toEqual(['D5', 'A4']);
    expect(over('| F# | D#m | G#m | C#7 |', 'F#')).toEqual(['E#4', 'B#3']);
    expect(over('| C | Eb7 | Dm | Db7 |')).toEqual(['B4', 'F#4']);
    // Named anew over the same chords.
    expect(over('| C | Am | Dm | G7 |', 'G')).toEqual(['B4', 'F#4']);
    expect(over('| C | Am | Dm | G7 |', 'Am')).toEqual(['B4', 'F#4']);
  });

  test('says so where bars were added, removed, moved or are in another meter', () => {
    expect(over('| C | Am | Dm | G7 | C |')).toEqual([{ code: 'bars', was: 4, is: 5 }]);
    expect(over('| C | Am | G7 |')).toEqual([{ code: 'bars', was: 4, is: 3 }]);
    expect(over('| F | C | Am | Dm |')).toEqual([{ code: 'moved' }]);
    expect(over('| C | Am | Dm | G7 |', 'C', '3/4')).toEqual([
      { code: 'meter', bar: 1, was: '4/4', is: '3/4' },
    ]);
  });
});
