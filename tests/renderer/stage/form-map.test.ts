/** What the map of the form and the totals tell of a take. Cases by hand, own words. */

import { expect, test } from 'vitest';
import { cleanWords, createFormMap, unbrokenWords } from '../../../src/renderer/stage/form-map.ts';
import { bar, C_DORIAN, C_IONIAN, formOf, gradeLine } from '../../helpers/hand-made.ts';

const two = formOf([bar(C_IONIAN), bar(C_DORIAN)]);

test('totals count up to the last note that was played; a gap counts once the line goes on', () => {
  const { slots, changes } = gradeLine(two, 'C4 D4 - E4 F4 G4 F4 E4 D4 Eb4');
  const map = createFormMap(two);
  map.take({ settled: slots.slice(0, 3), changes: [] });
  expect(cleanWords(map.totals())).toBe('2 of 2 clean');
  expect(unbrokenWords(map.totals())).toBe('unbroken');
  map.take({ settled: slots, changes });
  expect(cleanWords(map.totals())).toBe('9 of 10 clean');
  expect(unbrokenWords(map.totals())).toBe('unbroken since bar 1');
});

test('nothing is said before anything was played', () => {
  const map = createFormMap(two);
  expect([cleanWords(map.totals()), unbrokenWords(map.totals())]).toEqual(['', '']);
  expect(map.stateOf(1, 0)).toBe('toCome');
});

test('a bar is as its gravest fault, and holds without one', () => {
  const { slots, changes } = gradeLine(two, 'C4 D4 E4 F4 G4 F4 E4 D4 E4 D4 C4 D4 Eb4 F4 G4 F4');
  const map = createFormMap(two);
  map.take({ settled: slots, changes });
  expect(map.stateOf(1, 0)).toBe('held');
  // E over C dorian: outside, and the change came late.
  expect(changes.map(({ arrival }) => arrival)).toContain('late');
  expect(map.stateOf(1, 1)).toBe('lateChange');
  expect(map.stateOf(2, 0)).toBe('toCome');
});
