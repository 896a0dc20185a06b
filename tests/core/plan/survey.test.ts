/** What a rule finds in a plan, and why it leaves other chords of its kind alone. Places counted by hand, from 1. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { unrollForm } from '../../../src/core/chart/index.ts';
import {
  describeLeft,
  PLAN_RULES,
  surveyRule,
  type WhyLeft,
} from '../../../src/core/plan/index.ts';
import { semitonesUp } from '../../../src/core/theory/index.ts';
import { arbitraryChart } from '../../helpers/arbitrary-chart.ts';
import { runs } from '../../helpers/runs.ts';
import { chartOf } from '../chart/reading.ts';
import { applied, PLAN, ruleOf } from './planning.ts';

type Left = readonly [bar: number, symbol: string, why: WhyLeft];

const CASES: readonly (readonly [
  rule: string,
  key: string,
  bars: string,
  found: number,
  left: readonly Left[],
])[] = [
  [
    'tritone-substitute',
    'C',
    '| C7 | C7 | F7 | C7 | A7 D7 | G7 | C7 <blues> | G7 <altered> |',
    3,
    [
      [1, 'C7', 'bluesTonic'],
      [3, 'F7', 'goesElsewhere'],
      [4, 'C7', 'goesElsewhere'],
      [5, 'D7', 'nextGivesWay'],
      [7, 'C7', 'goesElsewhere'],
      [8, 'G7', 'named'],
    ],
  ],
  ['tritone-substitute', 'C', '|: G7 |1 C6 :|2 F6 |', 0, [[1, 'G7', 'varies']]],
  ['back-door', 'C', '| D7 | G7 | C6 | % |', 1, [[1, 'D7', 'notToMajor']]],
  [
    'minor-two',
    'C',
    '| Dm7 | G7 | C7 Am7 | A7 Dm7 D7 G7 |',
    0,
    [
      [2, 'G7', 'hasSecond'],
      [3, 'C7', 'bluesTonic'],
      [4, 'A7', 'noRoom'],
      [4, 'D7', 'noRoom'],
      [4, 'G7', 'noRoom'],
    ],
  ],
  [
    'chromatic-approach',
    'C',
    '| C6 Am7 Dm7 G7 |',
    0,
    [
      [1, 'C6', 'noRoom'],
      [1, 'Am7', 'noRoom'],
      [1, 'Dm7', 'noRoom'],
      [1, 'G7', 'leadsThere'],
    ],
  ],
  ['secondary-dominant', 'C', '| C6 | C#dim7 |', 1, [[1, 'C6', 'noTonic']]],
  [
    'lydian-for-major',
    'C',
    '| Cmaj7 | Fmaj7 | Gmaj7 <ionian> |',
    0,
    [
      [1, 'Cmaj7', 'isTonic'],
      [2, 'Fmaj7', 'playedSo'],
      [3, 'Gmaj7', 'named'],
    ],
  ],
  [
    'altered-into-minor',
    'Cm',
    '| G13 | Cm6 | G7 | Cmaj7 |',
    0,
    [
      [1, 'G13', 'notHeld'],
      [3, 'G7', 'notToMinor'],
    ],
  ],
  ['melodic-minor-for-tonic', 'Cm', '| Cm7 | F7 |', 0, [[1, 'Cm7', 'isSecond']]],
];

describe('a rule tells what it leaves alone', () => {
  test.each(CASES)('%s in %s over %s', (id, key, bars, found, left) => {
    const chart = chartOf(`title: a\nkey: ${key}\nmeter: 4/4\n${bars}\n`);
    const survey = surveyRule(chart, PLAN, ruleOf(id));
    expect(survey.left.map(({ bar, symbol, why }) => [bar + 1, symbol, why])).toEqual(left);
    expect(survey.places.length).toBe(found);
  });

  test('in a clause that reads on after the chord', () => {
    const met = new Set(CASES.flatMap(([, , , , left]) => left.map(([, , why]) => why)));
    for (const why of met) expect(describeLeft(why)).toMatch(/^[a-z].*[a-z]$/u);
    expect(met.size).toBe(15);
  });

  test('and no place is both found and left', () => {
    fc.assert(
      fc.property(arbitraryChart(), fc.constantFrom(...PLAN_RULES), (chart, rule) => {
        const { places, left } = surveyRule(chart, PLAN, rule);
        const names = [...places, ...left].map(({ bar, chord }) => `${bar} ${chord}`);
        expect(new Set(names).size).toBe(names.length);
      }),
      { numRuns: runs(300, 60), seed: 20_261_130 },
    );
  });
});

describe('the tritone substitute, wherever it is written at once', () => {
  const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];
  /** Mostly dominants a fourth apart, some of them held for two bars. */
  const rows = fc.array(
    fc.record({
      move: fc.constantFrom(5, 5, 5, 5, 7, 2, 11),
      quality: fc.constantFrom('7', '7', '7', '9', 'maj7', 'm7'),
      bars: fc.constantFrom(1, 1, 2),
    }),
    { minLength: 1, maxLength: 10 },
  );

  test('leads by semitone into a chord that stays', () => {
    fc.assert(
      fc.property(rows, fc.constantFrom('C', 'F', 'Am'), (row, key) => {
        let root = 0;
        const bars = row.flatMap(({ move, quality, bars: count }) => {
          root = (root + move) % 12;
          return Array.from({ length: count }, () => `${ROOTS[root] ?? ''}${quality}`);
        });
        const chart = chartOf(`title: a\nkey: ${key}\nmeter: 4/4\n| ${bars.join(' | ')} |\n`);
        const made = unrollForm(applied(chart, ruleOf('tritone-substitute')), PLAN);
        const chords = made.ok ? made.value.bars.flatMap(({ chords: own }) => own) : [];
        chords.forEach(({ symbol, chosen }, at) => {
          if (symbol === null || chosen?.given !== true) return;
          const ahead = [...chords.slice(at + 1), ...chords.slice(0, at)];
          const next = ahead.find((one) => one.symbol?.text !== symbol.text)?.symbol;
          expect(next == null ? null : semitonesUp(symbol.root, next.root)).toBe(11);
        });
      }),
      { numRuns: runs(3000, 400), seed: 20_261_130 },
    );
  });
});
