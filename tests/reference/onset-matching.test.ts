/**
 * Slot assignment against maximum bipartite matching. The measure is that of the Python library mir_eval, module `onset` (window
 * inclusive), in which the check rows were run (version not noted). The matching itself is the npm package bipartite-matching
 * 1.0.0, which knows nothing of slots.
 */

import findBipartiteMatching from 'bipartite-matching';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { gradeTake } from '../../src/core/grading/index.ts';
import { anyTake } from '../helpers/arbitrary-take.ts';
import { bar, C_IONIAN, formOf } from '../helpers/hand-made.ts';

/** The grader compares times at this resolution; see `timing.ts`. */
const RESOLUTION_MS = 1e-6;

function hits(
  reference: readonly number[],
  estimated: readonly number[],
  windowMs: number,
): number {
  const edges: [number, number][] = [];
  reference.forEach((at, slot) => {
    estimated.forEach((onset, index) => {
      if (Math.abs(onset - at) <= windowMs) edges.push([slot, index]);
    });
  });
  return findBipartiteMatching(reference.length, estimated.length, edges).length;
}

describe('the independent matching', () => {
  test.each([
    [[0, 500, 1000, 1500], [20, 460, 1060, 1500, 1900], 3],
    [[1000, 1060], [960, 1020], 2],
    [[0, 250, 500], [0, 10, 250, 260, 500], 3],
    [[], [1000], 0],
    [[1000], [], 0],
  ])('finds the published hits: %j against %j is %i', (reference, estimated, expected) => {
    expect(hits(reference, estimated, 50)).toBe(expected);
  });
});

test('slots in time are as many as a maximum matching within the tolerance finds', () => {
  const form = formOf([bar(C_IONIAN), bar(C_IONIAN), bar(C_IONIAN)]);
  const tempo = { kind: 'steady', tempoBpm: 75 } as const;
  fc.assert(
    fc.property(anyTake, fc.integer({ min: 1, max: 199 }), (take, toleranceMs) => {
      const report = gradeTake(form, take, { level: 'leaps', tempo, toleranceMs });
      const inTime = report.slots.filter(
        ({ note, faults }) => note && !faults.includes('early') && !faults.includes('late'),
      );
      // At 75 bpm a slot lasts 400 ms. The line's onsets are the loudest of each strike; a strike's doubles are
      // the same onset, so they may not match a second slot.
      const doubles = report.extras.filter(({ reason }) => reason === 'double');
      const onsets = take.events.flatMap((event) => (event.kind === 'noteOn' ? [event.atMs] : []));
      for (const { onsetMs } of doubles) onsets.splice(onsets.indexOf(onsetMs), 1);
      const reference = report.slots.map(({ index }) => index * 400);
      expect(inTime).toHaveLength(hits(reference, onsets, toleranceMs + RESOLUTION_MS));
    }),
    { numRuns: 500 },
  );
});
