/**
 * Written lines beside improvised ones: the figures of 456 annotated solos (`solo-figures.ts`), and what is aimed at. Lines
 * over the program's own charts and over progressions made by chance; `npm run bench -- lines` counts more of them.
 */

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import type { LineWish } from '../../../src/core/line/index.ts';
import { SHAPE_DENSITIES, USUAL_SHAPE } from '../../../src/core/line/index.ts';
import { chartOf, formOf } from '../../core/chart/reading.ts';
import { lineOfKeys } from '../../helpers/line-of-keys.ts';
import { countedLines } from './counted-lines.ts';
import { FIGURE_ROWS } from './figure-rows.ts';
import { jensenShannon, type LineFigures, lineFigures } from './figures.ts';
import { forms16 } from './many-forms.ts';
import { SOLO_FIGURES } from './solo-figures.ts';

const USUAL = SHAPE_DENSITIES[USUAL_SHAPE];

/** Over 1,280 bars. */
function figuresOf(level: LineWish['level'], style: LineWish['style']): LineFigures {
  return lineFigures(countedLines({ level, style, density: USUAL }, 2));
}

/** At a place of the shape dial, over 160 bars: enough to see which way it goes. */
function atShape(density: number): LineFigures {
  return lineFigures(countedLines({ level: 'leaps', style: 'solo', density }, 1, SOME_FORMS));
}

const SOME_FORMS = forms16(10);

const STYLED = (['steps', 'thirds', 'leaps'] as const).flatMap((level) =>
  (['teaching', 'solo'] as const).map((style) => ({
    level,
    style,
    figures: figuresOf(level, style),
  })),
);
const of = (level: string, style: string): LineFigures => {
  const found = STYLED.find((one) => one.level === level && one.style === style);
  if (found === undefined) throw new Error(`not counted: ${level} ${style}`);
  return found.figures;
};
const SOLO = of('leaps', 'solo');
const TEACHING = of('leaps', 'teaching');

/** Palettes and charts move the figures a little; the page is to be made anew when it is off by this. */
const DRIFT = { percent: 4, number: 0.6 } as const;

/** The rows of the page's table: their words, and the cells after them as numbers, null for a dash. */
function rowsOfPage(): ReadonlyMap<string, readonly (number | null)[]> {
  const page = join(import.meta.dirname, '..', '..', '..', 'docs', 'line-figures.md');
  const rows = readFileSync(page, 'utf8')
    .split('\n')
    .filter((row) => row.startsWith('| '))
    .map((row) => row.split('|').map((cell) => cell.trim()));
  return new Map(
    rows.map(([, words = '', ...cells]) => [
      words,
      cells.slice(0, -1).map((cell) => (cell === '–' ? null : Number.parseFloat(cell))),
    ]),
  );
}

describe('written lines beside improvised ones', () => {
  test.each(FIGURE_ROWS)(
    'the page in docs shows the figures of solos and lines: %s',
    (figure, words, kind) => {
      const [solos, ...cells] = rowsOfPage().get(words) ?? [];
      const times = kind === 'percent' ? 100 : 1;
      const quoted = SOLO_FIGURES[figure];
      if (quoted === null) expect(solos).toBeNull();
      else expect(solos).toBeCloseTo(times * quoted, 6);
      expect(cells).toHaveLength(STYLED.length);
      STYLED.forEach(({ figures }, column) => {
        const off = (cells[column] ?? Number.NaN) - times * figures[figure];
        expect(Math.abs(off)).toBeLessThanOrEqual(DRIFT[kind]);
      });
    },
  );

  test('as solos go, the intervals come as near to solos as one soloist to the others', () => {
    // The farthest of 22 soloists from the others: 0.070. Source: as in `solo-figures.ts`.
    expect(SOLO.divergence).toBeLessThanOrEqual(0.07);
  });

  test('contours differ from bar to bar, and bars are not played again', () => {
    for (const figures of [SOLO, TEACHING]) {
      expect(figures.contourBits).toBeGreaterThanOrEqual(5.5);
      expect(figures.repeatedBars).toBeLessThanOrEqual(0.02);
    }
  });

  test('at leaps 8 to 12 % of intervals are wider than a third, as many up as down, and recovered', () => {
    for (const { wideUp, wideDown, recovered } of [SOLO, TEACHING]) {
      expect(wideUp + wideDown).toBeGreaterThanOrEqual(0.08);
      expect(wideUp + wideDown).toBeLessThanOrEqual(0.12);
      expect(wideUp / wideDown).toBeGreaterThan(0.67);
      expect(wideUp / wideDown).toBeLessThan(1.5);
      expect(recovered).toBeGreaterThan(0.8);
    }
  });

  test('thirds keeps to thirds, and steps to steps', () => {
    for (const style of ['solo', 'teaching'] as const) {
      expect(of('thirds', style).wideUp + of('thirds', style).wideDown).toBe(0);
      expect(of('thirds', style).thirds).toBeGreaterThan(0.2);
      expect(of('steps', style).thirds).toBeLessThan(0.06);
    }
  });

  test('a line for teaching lands on the third or seventh at most chords, one as solos go about as often as they do', () => {
    expect(TEACHING.arriveOnGuideTone).toBeGreaterThan(0.75);
    expect(TEACHING.chordTonesOnOddBeats).toBeGreaterThan(0.85);
    expect(SOLO.arriveOnGuideTone).toBeLessThan(0.35);
    expect(SOLO.chordTonesOnOddBeats).toBeLessThan(0.65);
  });

  test('between the points of the shape dial nothing jumps: thirds grow evenly from scales to arpeggios', () => {
    const marks = Array.from({ length: 7 }, (_, step) => (step / 6) * SHAPE_DENSITIES.arpeggios);
    const thirds = marks.map((density) => atShape(density).thirds);
    const jumps = thirds.slice(1).map((share, index) => share - (thirds[index] ?? 0));
    expect(Math.min(...jumps)).toBeGreaterThan(-0.02);
    expect(Math.max(...jumps)).toBeLessThan(0.16);
  });

  test('wide shapes have more wide intervals than any other point of the dial', () => {
    const wide = atShape(SHAPE_DENSITIES.wide);
    const arpeggios = atShape(SHAPE_DENSITIES.arpeggios);
    expect(wide.wideUp + wide.wideDown).toBeGreaterThan(
      1.5 * (arpeggios.wideUp + arpeggios.wideDown),
    );
  });
});

describe('the figures themselves, counted by hand', () => {
  test('of a line of eight notes', () => {
    const form = formOf(chartOf('title: a\nkey: C\nmeter: 4/4\n| C |\n'));
    // C4 D4 E4 C4 C4 Bb3 F4 F#4: +2 +2 −4 0 −2 +7 +1; runs 2, 3 (with the repeat), 2. Beats: C E C F.
    const keys = [60, 62, 64, 60, 60, 58, 65, 66];
    const line = lineOfKeys(keys, 'leaps', 2);
    const notes = line.notes.map((note, slot) => ({
      ...note,
      place: { ...note.place, beat: 1 + Math.floor(slot / 2), sub: slot % 2 },
    }));
    const sevenths = (count: number) => expect.closeTo(count / 7, 9);
    expect(lineFigures([{ form, line: { ...line, notes } }])).toMatchObject({
      notes: 8,
      repeats: sevenths(1),
      stepsUp: sevenths(3),
      stepsDown: sevenths(1),
      halfSteps: sevenths(1),
      wholeSteps: sevenths(3),
      thirds: sevenths(1),
      wideUp: sevenths(1),
      wideDown: 0,
      recovered: 0,
      turns: sevenths(2),
      meanRun: expect.closeTo(7 / 3, 9),
      runsOfOne: 0,
      runsOfFiveOrMore: 0,
      contourBits: 0,
      chordTonesOnOddBeats: 1,
      chordTonesOnEvenBeats: 0.5,
      chordTonesOffBeats: 0.25,
      // Over C the palette is C ionian: B flat and F sharp.
      outside: 0.25,
      rangeOf16: 0,
    });
  });

  test('a bar played again, and a half bar at another height', () => {
    const form = formOf(chartOf('title: a\nkey: C\nmeter: 4/4\n| C | C |\n'));
    const bar = [60, 62, 64, 65, 67, 69, 71, 72];
    const line = lineOfKeys([...bar, ...bar], 'leaps', 2);
    const notes = line.notes.map((note, slot) => ({
      ...note,
      place: {
        ...note.place,
        bar: 1 + Math.floor(slot / 8),
        beat: 1 + (Math.floor(slot / 2) % 4),
        sub: slot % 2,
      },
    }));
    // Three pairs of half bars: G A B C after C D E F is the same shape, a fifth higher; and back; and again.
    expect(lineFigures([{ form, line: { ...line, notes } }])).toMatchObject({
      repeatedBars: 0.5,
      barRepeatedNext: 1,
      cellRepeated: 0,
      cellTransposed: 1,
      rangeOf16: 12,
    });
  });

  test('the divergence is 0 of a thing from itself, 1 bit of things that share nothing', () => {
    expect(jensenShannon([0.25, 0.75], [0.25, 0.75])).toBe(0);
    expect(jensenShannon([1, 0], [0, 1])).toBe(1);
    // By hand: ½·½·log2(½/¾)·… = 0.3113 for (1, 0) against (½, ½).
    expect(jensenShannon([1, 0], [0.5, 0.5])).toBeCloseTo(0.3113, 4);
  });
});
