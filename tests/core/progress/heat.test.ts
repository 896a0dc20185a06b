/** Pictures over takes: each cell against counts made by hand, and the sums against those of the takes. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  type ChordEvidence,
  changesByLateness,
  chordsByRoots,
  type HeatCell,
  isOfFilter,
  rulesByBars,
  type TakeFilter,
  weeksByBars,
} from '../../../src/core/progress/index.ts';
import { HEAT_RULES, LATENESS } from '../../../src/core/words.ts';
import { DAY_MS, NOW_MS, take } from './takes.ts';

/** A filter that lets everything pass. */
const EVERY_TAKE: TakeFilter = {
  chartId: null,
  plan: null,
  key: null,
  level: null,
  tempoBpm: null,
  playedAtMs: null,
};

const chord = (part: Partial<ChordEvidence>): ChordEvidence => ({
  ...{ bar: 1, beat: 1, chord: 'Dm7', slots: 8, clean: 8, faults: {}, arrivals: null },
  ...part,
});

/** A take whose bars are the sums of its chords. */
function played(chords: readonly ChordEvidence[], wish: Parameters<typeof take>[0] = {}) {
  const bars = [...Map.groupBy(chords, ({ bar }) => bar)].map(([bar, own]) => ({
    bar,
    slots: own.reduce((sum, { slots }) => sum + slots, 0),
    clean: own.reduce((sum, { clean }) => sum + clean, 0),
  }));
  return take({ ...wish, evidence: { bars, chords, ...wish.evidence } });
}

const cellAt = <Row, Column>(
  matrix: {
    readonly rows: readonly Row[];
    readonly columns: readonly Column[];
    readonly cells: readonly (readonly HeatCell[])[];
  },
  row: Row,
  column: Column,
) => matrix.cells[matrix.rows.indexOf(row)]?.[matrix.columns.indexOf(column)];

const OLDER = take({
  takeId: 'older',
  daysAgo: 9,
  evidence: { bars: [{ bar: 2, slots: 8, clean: 5 }] },
});
const FIRST = played(
  [
    chord({ slots: 4, clean: 3, faults: { gap: 1 } }),
    chord({
      ...{ beat: 3, chord: 'G7', slots: 4, clean: 2, faults: { outside: 2, interval: 1 } },
      arrivals: { onTime: 2, unproven: 1, lateBySlots: [1, 3, 5] },
    }),
    chord({ bar: 2, chord: 'Cmaj7', arrivals: { onTime: 4, unproven: 0, lateBySlots: [] } }),
  ],
  { takeId: 'first', daysAgo: 2 },
);
const SECOND = played(
  [
    chord({ slots: 4, clean: 1, faults: { outside: 3 } }),
    chord({
      ...{ beat: 3, chord: 'G7', slots: 4, clean: 4 },
      arrivals: { onTime: 1, unproven: 0, lateBySlots: [2] },
    }),
  ],
  { takeId: 'second', daysAgo: 1 },
);

describe('rules × bars', () => {
  const matrix = rulesByBars([SECOND, FIRST, OLDER]);

  test('count faults of all chords in a bar, with the takes most hit first', () => {
    expect(matrix.columns).toEqual([1, 2]);
    expect(matrix.rows).toEqual(HEAT_RULES);
    expect(cellAt(matrix, 'outside', 1)).toEqual({ hits: 5, of: 16, takeIds: ['second', 'first'] });
    expect(cellAt(matrix, 'gap', 1)).toEqual({ hits: 1, of: 16, takeIds: ['first'] });
    expect(cellAt(matrix, 'outside', 2)).toEqual({ hits: 0, of: 8, takeIds: [] });
  });

  test('count changes not on time of those counted', () => {
    expect(cellAt(matrix, 'change', 1)).toEqual({ hits: 5, of: 8, takeIds: ['first', 'second'] });
    expect(cellAt(matrix, 'change', 2)).toEqual({ hits: 0, of: 4, takeIds: [] });
  });

  test('name no take behind a bar where it owed nothing', () => {
    const reached = { bar: 3, slots: 0, arrivals: { onTime: 1, unproven: 0, lateBySlots: [] } };
    const free = rulesByBars([played([chord({}), chord(reached)])]);
    expect(cellAt(free, 'outside', 3)).toEqual({ hits: 0, of: 0, takeIds: [] });
    expect(cellAt(free, 'change', 3)).toMatchObject({ hits: 0, of: 1 });
  });

  test('name the takes that were kept without their chords', () => {
    expect(matrix.uncountedTakeIds).toEqual(['older']);
  });
});

test('weeks × bars count from Monday, also the weeks between and takes of old', () => {
  // 15 January 2025 is a Wednesday; nine days before is the Monday of the week before.
  const monday = Date.UTC(2025, 0, 13) / DAY_MS;
  const longAgoMs = NOW_MS - 24 * DAY_MS;
  const longAgo = take({ evidence: { ...OLDER.evidence, playedAtMs: longAgoMs } });
  const matrix = weeksByBars([SECOND, FIRST, OLDER, longAgo]);
  expect(matrix.rows).toEqual([monday - 28, monday - 21, monday - 14, monday - 7, monday]);
  expect(cellAt(matrix, monday, 1)).toEqual({ hits: 6, of: 16, takeIds: ['second', 'first'] });
  expect(cellAt(matrix, monday - 7, 2)).toEqual({ hits: 3, of: 8, takeIds: ['older'] });
  expect(cellAt(matrix, monday - 14, 2)).toEqual({ hits: 0, of: 0, takeIds: [] });
  expect(matrix.uncountedTakeIds).toEqual([]);
  expect(weeksByBars([]).cells).toEqual([]);
  const justBefore = take({ evidence: { playedAtMs: Date.UTC(2025, 0, 13) - 1 } });
  expect(weeksByBars([justBefore]).rows).toEqual([monday - 7]);
  expect(weeksByBars([{ ...justBefore, day: monday }]).rows).toEqual([monday]);
});

test('chord kinds × roots count slots that were not clean, whatever a root is called', () => {
  const more = played([
    chord({ chord: 'Db7', clean: 7 }),
    chord({ chord: 'C#7', clean: 6 }),
    chord({ chord: 'N.C.', clean: 0 }),
  ]);
  const matrix = chordsByRoots([more, FIRST, OLDER]);
  expect(matrix.rows).toEqual(['major', 'minor', 'dominant']);
  expect(matrix.columns).toHaveLength(12);
  expect(cellAt(matrix, 'dominant', 1)).toEqual({ hits: 3, of: 16, takeIds: [more.takeId] });
  expect(cellAt(matrix, 'dominant', 7)).toEqual({ hits: 2, of: 4, takeIds: ['first'] });
  expect(cellAt(matrix, 'minor', 2)).toEqual({ hits: 1, of: 4, takeIds: ['first'] });
  expect(cellAt(matrix, 'major', 1)?.of).toBe(0);
  expect(matrix.uncountedTakeIds).toEqual(['older']);
});

test('changes × lateness tell by how many slots, in the order of the form', () => {
  const matrix = changesByLateness([SECOND, FIRST, OLDER]);
  expect(matrix.rows.map(({ bar, beat, toChord }) => [bar, beat, toChord])).toEqual([
    [1, 3, 'G7'],
    [2, 1, 'Cmaj7'],
  ]);
  expect(matrix.columns).toEqual(LATENESS);
  expect(matrix.cells[0]?.map(({ hits }) => hits)).toEqual([3, 1, 1, 1, 1, 1]);
  expect(matrix.cells[0]?.every(({ of }) => of === 8)).toBe(true);
  expect(matrix.cells[0]?.[2]?.takeIds).toEqual(['second']);
  expect(matrix.uncountedTakeIds).toEqual(['older']);
});

describe('a filter', () => {
  test('lets every practice pass, or those that meet every part of it', () => {
    const plain = take({ takeId: 'plain' });
    const takes = [
      plain,
      take({ chartId: 'swell' }),
      take({ plan: 'side door' }),
      take({ key: 'Em' }),
      take({ level: 'free' }),
    ];
    const passing = (filter: TakeFilter) => takes.filter((one) => isOfFilter(filter, one));
    expect(passing(EVERY_TAKE)).toEqual(takes);
    const parts = [
      { chartId: 'pier' },
      { plan: 'plain' },
      { key: 'Dm' },
      { level: 'steps' as const },
    ];
    for (const part of parts) {
      expect(passing({ ...EVERY_TAKE, ...part })).toHaveLength(takes.length - 1);
    }
    expect(passing(Object.assign({}, EVERY_TAKE, ...parts))).toEqual([plain]);
    expect(isOfFilter({ ...EVERY_TAKE, key: 'Gb' }, take({ key: 'F#' }))).toBe(true);
  });
});

test('no slot and no fault is lost or counted twice', () => {
  const chords = fc.array(
    fc.record({
      bar: fc.integer({ min: 1, max: 6 }),
      chord: fc.constantFrom('Dm7', 'G7', 'Cmaj7', 'Bm7b5'),
      slots: fc.integer({ min: 2, max: 8 }),
      faulty: fc.integer({ min: 0, max: 2 }),
      daysAgo: fc.integer({ min: 0, max: 30 }),
    }),
    { maxLength: 12 },
  );
  fc.assert(
    fc.property(chords, (wished) => {
      const takes = wished.map(({ bar, chord: text, slots, faulty, daysAgo }) =>
        played(
          [chord({ bar, chord: text, slots, clean: slots - faulty, faults: { outside: faulty } })],
          { daysAgo },
        ),
      );
      const faulty = wished.reduce((sum, one) => sum + one.faulty, 0);
      const slots = wished.reduce((sum, one) => sum + one.slots, 0);
      for (const { cells } of [weeksByBars(takes), chordsByRoots(takes)]) {
        expect(cells.flat().reduce((sum, { hits }) => sum + hits, 0)).toBe(faulty);
        expect(cells.flat().reduce((sum, { of }) => sum + of, 0)).toBe(slots);
      }
      const outside = rulesByBars(takes).cells[HEAT_RULES.indexOf('outside')] ?? [];
      expect(outside.reduce((sum, { hits }) => sum + hits, 0)).toBe(faulty);
    }),
  );
});
