/**
 * Readings of invented players. Expected: what was planted is told of first, and nothing is told of where nothing was; the rates
 * asked for are 99 in 100 and under 1 in 200, over many more players in `npm run bench -- readings`. A few of each here.
 */

import { describe, expect, it } from 'vitest';
import { gradeTake, readTake } from '../../../../src/core/grading/index.ts';
import { READING_KINDS } from '../../../../src/core/words.ts';
import { describePlayer, isMostlyMisread, seededPlayer } from './seeded-players.ts';

const PLAYERS = 6;
const SEEDS = Array.from({ length: PLAYERS }, (_, index) => 1001 + index);

describe.each(READING_KINDS)('%s', (kind) => {
  it('is told of first where it was planted', () => {
    for (const seed of SEEDS) {
      const player = seededPlayer(seed, kind);
      if (!isMostlyMisread(player)) continue;
      const [first] = readTake(player, null).report.readings;
      const isFound = first !== undefined && player.planted?.isFound(first);
      expect(isFound, `${seed}: ${describePlayer(player)}: ${JSON.stringify(first)}`).toBe(true);
    }
  });
});

describe('slip, of players with as many faults of other kinds', () => {
  // Just half of what is wrong comes of it, and the place decides: only from where the line breaks off does the reading clear so many.
  it.each([72, 109, 146, 193])('is told of first by seed %i', (seed) => {
    const player = seededPlayer(seed, 'slip');
    const [first] = readTake(player, null).report.readings;
    expect(isMostlyMisread(player)).toBe(true);
    expect(first !== undefined && player.planted?.isFound(first), JSON.stringify(first)).toBe(true);
  });
});

describe('without a misreading', () => {
  it('nothing is told of, and the verdicts are those of the plain grader', () => {
    for (const seed of SEEDS) {
      const player = seededPlayer(seed, null);
      const { report } = readTake(player, null);
      expect(report).toEqual(gradeTake(player.form, player.take, player.settings));
    }
  });
});
