/**
 * How many of the chord spellings in the open dictionary of tonal 6.4.3 (`ChordType`, every alias, each once) are
 * understood. The figure is the share; what is not understood is named, so that it cannot grow unseen.
 */

import { ChordType } from 'tonal';
import { expect, test } from 'vitest';
import { parseChordSymbol } from '../../../src/core/theory/index.ts';

/** Spellings that name no chord on a lead sheet, or one that other spellings name. */
const NOT_UNDERSTOOD = ['4', '67', 'alt7', 'dom', 'h', 'h7', 'm11A', 'o7M7', 'phryg', 'quartal'];

test('95 % of the distinct spellings of an open dictionary are understood', () => {
  const spellings = [...new Set(ChordType.all().flatMap(({ aliases }) => aliases))];
  const missed = spellings.filter((quality) => !parseChordSymbol(`C${quality}`).ok);
  expect(missed.toSorted()).toEqual(NOT_UNDERSTOOD);
  expect(1 - missed.length / spellings.length).toBeGreaterThan(0.95);
});
