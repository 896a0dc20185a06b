/**
 * Written lines at the level of any interval beside improvised ones. Nothing published was at hand: what is said of
 * improvised lines is from memory and marked so, as orders of size, never as numbers to be met. Only an order that a
 * source is remembered for is asserted, and only where our lines are meant to have it; all others are printed.
 */

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { writeLine } from '../../../src/core/line/index.ts';
import { chartOf, formOf } from '../../core/chart/reading.ts';
import { lineOfKeys } from '../../helpers/line-of-keys.ts';
import { type LineFigures, lineFigures } from './figures.ts';

/** A blues and progressions of our own, in keys with and without signatures. */
const FORMS = [
  'key: C\nmeter: 4/4\n| Cmaj7 | Ebmaj7 | Abm7 | Db7 | Fm7 | Fm7 | Am7 | D7 |\n| Dbmaj7 | Bbm7 | Em7 | A7b9 | Dm7 | Fm6 | Cmaj7 B7 | Bbmaj7 G7 |',
  'key: F\nmeter: 4/4\n| F7 | Bb7 | F7 | Cm7 F7 | Bb7 | Bb7 | F7 | D7b9 |\n| Gm7 | C7 | F7 D7 | Gm7 C7 |',
  'key: Gm\nmeter: 4/4\n| Gm6 | Gm6 | Abmaj7 | Dbm7 Gb7 | Cm7 | Ebm6 | D7b9 | Gm6 D7b9 |',
  'key: Eb\nmeter: 3/4\n| Ebmaj7 | Cm7 | Fm7 | Bb7 | Gm7 | C7b9 | Fm7 Bb7 | Eb6 |',
].map((text) => formOf(chartOf(`title: Winter Residency\n${text}\n`)));
const SEEDS = 12;
const REGISTER = { lowestMidi: 55, highestMidi: 82 };

function figuresAt(density: number): LineFigures {
  const lines = FORMS.flatMap((form) =>
    Array.from({ length: SEEDS }, (_, seed) => {
      const line = writeLine(form, {
        ...{ level: 'leaps', choruses: 1, slotsPerBeat: null, swing: 1, startMidi: null },
        ...{ register: REGISTER, seed, density },
      });
      if (!line.ok) throw new Error('no line');
      return { form, line: line.value };
    }),
  );
  return lineFigures(lines);
}

const PLAIN = figuresAt(0);
const MIXED = figuresAt(0.35);
const ARPEGGIOS = figuresAt(0.5);
const WIDE = figuresAt(1);

type Row = readonly [what: string, remembered: string, of: (figures: LineFigures) => number];

/** Rows of the table; the second column is from memory. */
const ROWS: readonly Row[] = [
  ['repeated notes', 'few: under a tenth', ({ repeats }) => repeats],
  [
    'steps (1–2 semitones)',
    'the most: about half',
    ({ stepsUp, stepsDown }) => stepsUp + stepsDown,
  ],
  ['… up', 'fewer than down', ({ stepsUp }) => stepsUp],
  ['… down', 'more than up', ({ stepsDown }) => stepsDown],
  ['… half steps', 'many: chromatic notes', ({ halfSteps }) => halfSteps],
  ['… whole steps', 'many', ({ wholeSteps }) => wholeSteps],
  ['thirds (3–4 semitones)', 'second: about a quarter', ({ thirds }) => thirds],
  ['wider', 'fewer than thirds', ({ wideUp, wideDown }) => wideUp + wideDown],
  ['… up', 'more than down', ({ wideUp }) => wideUp],
  ['… down', 'fewer than up', ({ wideDown }) => wideDown],
  ['runs of one move', 'many', ({ runsOfOne }) => runsOfOne],
  ['runs of five moves and more', 'few', ({ runsOfFiveOrMore }) => runsOfFiveOrMore],
  ['chord tones on beats', 'more than off beats', ({ chordTonesOnBeats }) => chordTonesOnBeats],
  ['chord tones off beats', 'fewer than on beats', ({ chordTonesOffBeats }) => chordTonesOffBeats],
];

function table(): string {
  const percent = (share: number): string => `${Math.round(100 * share)} %`;
  const columns = [PLAIN, MIXED, ARPEGGIOS, WIDE];
  const lines = ROWS.map(
    ([what, remembered, of]) =>
      `| ${what} | ${remembered} | ${columns.map((figures) => percent(of(figures))).join(' | ')} |`,
  );
  const runs = columns.map(({ meanRun }) => meanRun.toFixed(1)).join(' | ');
  return [
    '| share of moves, runs or notes | improvised, from memory | plain (0) | between (0.35) | arpeggios (0.5) | wide (1) |',
    '|---|---|---|---|---|---|',
    ...lines,
    `| mean run in moves | two or three | ${runs} |`,
  ].join('\n');
}

describe('written lines beside improvised ones', () => {
  test('the page in docs shows the figures as they are', () => {
    console.info(table());
    const page = join(import.meta.dirname, '..', '..', '..', 'docs', 'line-figures.md');
    expect(readFileSync(page, 'utf8')).toContain(table());
  });

  test('steps are more than thirds and thirds more than wider intervals in plain lines', () => {
    // Weimar Jazz Database, M. Pfleiderer et al. (eds.), Inside the Jazzomat, 2017; from memory, the order alone.
    expect(PLAIN.stepsUp + PLAIN.stepsDown).toBeGreaterThan(PLAIN.thirds);
    expect(PLAIN.thirds).toBeGreaterThan(PLAIN.wideUp + PLAIN.wideDown);
  });

  test('repeated notes are few', () => {
    // The same, from memory; a tenth is far above what is remembered.
    for (const { repeats } of [PLAIN, MIXED, ARPEGGIOS, WIDE]) expect(repeats).toBeLessThan(0.1);
  });

  test('chord tones stand on beats more than off them', () => {
    // T. Järvinen, Tonal hierarchies in jazz improvisation, Music Perception 12, 1995; from memory, the order alone.
    for (const figures of [PLAIN, MIXED, ARPEGGIOS, WIDE]) {
      expect(figures.chordTonesOnBeats).toBeGreaterThan(figures.chordTonesOffBeats);
    }
  });

  test('the dial goes the way it says: fewer steps, more wide intervals, shorter runs', () => {
    const steps = [PLAIN, MIXED, ARPEGGIOS, WIDE].map(
      ({ stepsUp, stepsDown }) => stepsUp + stepsDown,
    );
    const wide = [PLAIN, MIXED, ARPEGGIOS, WIDE].map(({ wideUp, wideDown }) => wideUp + wideDown);
    expect(steps).toEqual([...steps].sort((one, other) => other - one));
    expect(wide).toEqual([...wide].sort((one, other) => one - other));
    expect(WIDE.meanRun).toBeLessThan(PLAIN.meanRun);
  });
});

describe('the figures themselves, counted by hand', () => {
  test('of a line of eight notes', () => {
    const form = formOf(chartOf('title: a\nkey: C\nmeter: 4/4\n| C |\n'));
    // C4 D4 E4 C4 C4 Bb3 F4 F#4: +2 +2 −4 0 −2 +7 +1; runs 2, 3 (with the repeat), 2. Beats: C E C F.
    const keys = [60, 62, 64, 60, 60, 58, 65, 66];
    const figures = lineFigures([{ form, line: lineOfKeys(keys, 'leaps', 2) }]);
    const sevenths = (count: number) => expect.closeTo(count / 7, 9);
    expect(figures).toEqual({
      notes: 8,
      repeats: sevenths(1),
      stepsUp: sevenths(3),
      stepsDown: sevenths(1),
      halfSteps: sevenths(1),
      wholeSteps: sevenths(3),
      thirds: sevenths(1),
      wideUp: sevenths(1),
      wideDown: 0,
      meanRun: expect.closeTo(7 / 3, 9),
      runsOfOne: 0,
      runsOfFiveOrMore: 0,
      chordTonesOnBeats: 0.75,
      chordTonesOffBeats: 0.25,
    });
  });
});
