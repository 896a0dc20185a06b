/** Laws of the syntax tree over texts of all kinds: no character is lost, a fix fixes, an edit touches what it names. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { runs } from '../../helpers/runs.ts';
import {
  arbitraryChartText,
  breaksEditLaw,
  breaksFixLaw,
  breaksPrintLaw,
  fixedCodes,
} from './tree-laws.ts';

/** Problems that come with a fix. */
const FIXED = [
  ...[
    'misspeltHeader',
    'unknownKey',
    'unknownMeter',
    'unknownTempo',
    'unknownPickup',
    'unknownLine',
  ],
  ...['unknownSection', 'unknownBarLine', 'barNotOpened', 'barNotClosed', 'unknownChord'],
  'unknownPalette',
];

const OPTIONS = { numRuns: runs(100_000, 400), seed: 20_261_130 };

describe('for every text', () => {
  test('the tokens of its tree are the text, to the letter', () => {
    fc.assert(
      fc.property(arbitraryChartText(), (text) => {
        expect(breaksPrintLaw(text)).toBeNull();
      }),
      OPTIONS,
    );
  });

  test('every fix that is offered removes its problem', () => {
    fc.assert(
      fc.property(arbitraryChartText(), (text) => {
        expect(breaksFixLaw(text)).toBeNull();
      }),
      OPTIONS,
    );
  });

  test('every edit changes what it names and nothing else', () => {
    fc.assert(
      fc.property(arbitraryChartText(), fc.nat({ max: 12 }), (text, index) => {
        expect(breaksEditLaw(text, index)).toBeNull();
      }),
      OPTIONS,
    );
  });
});

describe('the laws', () => {
  const offered = fc.sample(arbitraryChartText(), { numRuns: 1000, seed: 3 });

  test('are asked of charts, of texts with problems, and of fixes of many kinds', () => {
    const told = offered.map((text) => fixedCodes(text));
    expect(told.filter((codes) => codes === null).length).toBeGreaterThan(20);
    const codes = new Set(told.flatMap((one) => one ?? []));
    expect([...codes].toSorted()).toEqual(FIXED.toSorted());
  });
});
