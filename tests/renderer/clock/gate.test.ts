/** The edges of the gate: what is far, how many far readings are a jump. The numbers are our own rule. */

import { describe, expect, test } from 'vitest';
import {
  createGate,
  type Gate,
  LEAST_FAR_MS,
  TRAINING_FAR_MS,
  TRAINING_READINGS,
} from '../../../src/renderer/clock/gate.ts';

/** Judges misses one after another, and gives the last verdict. */
function last(gate: Gate, ...missesMs: readonly number[]) {
  return missesMs.map((missMs, index) =>
    gate.judge({ pageMs: index * 40, heardMs: index * 40 + missMs }, missMs),
  );
}

const kinds = (gate: Gate, ...missesMs: readonly number[]): readonly string[] =>
  last(gate, ...missesMs).map(({ kind }) => kind);

/** A gate whose usual miss is known. */
function trained(usualMs: number): Gate {
  const gate = createGate();
  last(gate, ...Array.from({ length: TRAINING_READINGS }, () => usualMs));
  return gate;
}

describe('far', () => {
  test('is beyond the limit, not at it, on either side', () => {
    for (const side of [1, -1]) {
      expect(kinds(trained(0), side * LEAST_FAR_MS)).toEqual(['near']);
      expect(kinds(trained(0), side * (LEAST_FAR_MS + 0.01))).toEqual(['far']);
    }
  });

  test('is beyond six times the usual miss, where that is more', () => {
    expect(kinds(trained(2), 12)).toEqual(['near']);
    expect(kinds(trained(2), 12.01)).toEqual(['far']);
  });

  test('is beyond 30 ms before the usual miss is known', () => {
    expect(kinds(createGate(), TRAINING_FAR_MS, TRAINING_FAR_MS + 0.01)).toEqual(['near', 'far']);
  });
});

describe('a jump', () => {
  const AWAY = Array.from({ length: 4 }, () => 40);

  test('is five far readings that agree', () => {
    expect(kinds(trained(0), ...AWAY)).toEqual(['far', 'far', 'far', 'far']);
    const fifth = last(trained(0), 41, 40, 40, 39, 40).at(-1);
    expect(fifth).toMatchObject({ kind: 'jump', jumpMs: 40 });
  });

  test('is not five with a near one among them', () => {
    expect(kinds(trained(0), ...AWAY, 0, 40)).toEqual(['far', 'far', 'far', 'far', 'near', 'far']);
  });

  test('bears one reading that does not agree, not two', () => {
    expect(kinds(trained(0), ...AWAY, 90, 40).at(-1)).toBe('jump');
    expect(kinds(trained(0), ...AWAY, 90, 70).at(-1)).toBe('far');
  });

  test('is not told while sound stands still', () => {
    const still = Array.from({ length: 30 }, (_, index) => -40 * (index + 1));
    expect(new Set(kinds(trained(0), ...still))).toEqual(new Set(['far']));
  });
});
