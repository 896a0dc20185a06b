/** The readiness verdict in words, for page, command and screen alike. */

import { percent } from '../findings/index.ts';
import type { ChangeEvidence } from './evidence.ts';
import type { Obstacle, ReadinessVerdict } from './readiness.ts';
import {
  EASE_CLEAN_RATE,
  LONG_TAKE_CHORUSES,
  RAISE_BAR_RATE,
  RAISE_CLEAN_RATE,
  RAISE_ON_TIME_SHARE,
} from './readiness.ts';

/** Two or three short sentences: what to do with the tempo, and why. */
export function describeReadiness(verdict: ReadinessVerdict, tempoBpm: number): string {
  const evidence = `${verdict.clean} of ${verdict.slots} slots clean`;
  const { interval, nextTempoBpm } = verdict;
  switch (verdict.verdict) {
    case 'raise':
      return `Raise the tempo to ${nextTempoBpm}: ${evidence}, surely ${percent(interval.lower)} or more, and the changes are on time.`;
    case 'ease':
      return `Ease the tempo to ${nextTempoBpm}: ${evidence}, surely under ${percent(EASE_CLEAN_RATE)}. ${missing(verdict.obstacles)}`.trim();
    case 'hold':
      return `Hold the tempo at ${tempoBpm}. ${missing(verdict.obstacles)}`;
  }
}

function missing(obstacles: readonly Obstacle[]): string {
  return obstacles.map(describeObstacle).join(' ');
}

/** One obstacle to a raise as a sentence. */
export function describeObstacle(obstacle: Obstacle): string {
  switch (obstacle.kind) {
    case 'undecided':
      return obstacle.takes === 1
        ? 'One take does not count until you choose in its review how to grade it.'
        : `${obstacle.takes} takes do not count until you choose in their reviews how to grade them.`;
    case 'choruses':
      return `${count(obstacle.missing, 'more whole chorus', 'more whole choruses')} to play.`;
    case 'slots':
      return `${count(obstacle.missing, 'more slot', 'more slots')} to play.`;
    case 'takes':
      return `One more take to play, or one of ${LONG_TAKE_CHORUSES} choruses.`;
    case 'cleanRate':
      return `The clean rate is surely ${percent(obstacle.lower)} or more; ${percent(RAISE_CLEAN_RATE)} is needed.`;
    case 'changes': {
      const worst = obstacle.worst.slice(0, 3).map(describeChange);
      return `${percent(obstacle.onTimeShare)} of the changes are on time; ${percent(RAISE_ON_TIME_SHARE)} is needed. Most often not: ${worst.join('; ')}.`;
    }
    case 'bars': {
      const bars = obstacle.bars;
      const names = bars.length === 1 ? `Bar ${bars[0]} is` : `Bars ${joined(bars)} are`;
      return `${names} under ${percent(RAISE_BAR_RATE)} clean.`;
    }
  }
}

/** `G7 in bar 4`, `Dm7 in bar 2, beat 3`. */
export function describeChange({ bar, beat, toChord }: ChangeEvidence): string {
  return `${toChord} in bar ${bar}${beat === 1 ? '' : `, beat ${beat}`}`;
}

function count(number: number, one: string, many: string): string {
  return `${number} ${number === 1 ? one : many}`;
}

function joined(numbers: readonly number[]): string {
  return numbers.length < 2
    ? numbers.join('')
    : `${numbers.slice(0, -1).join(', ')} and ${numbers.at(-1)}`;
}
