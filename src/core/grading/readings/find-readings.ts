/**
 * The readings of a take. Each kind is looked at cheaply first, so that a take is graded at most seven times more: once for each
 * kind, and twice for an entry. Source: `grading.md`, "Other readings".
 */

import { READING_KINDS } from '../../words.ts';
import { gradeTake } from '../grader.ts';
import type { Report } from '../report.ts';
import { applyReading, shiftOf } from './apply-reading.ts';
import { candidates } from './candidates.ts';
import { clearedBy, commonEntries, faultCount, isGiven, LEAST_CLEARED, misses } from './cleared.ts';
import type { Ground } from './ground.ts';
import type { Reading, ReadingValue } from './model.ts';
import { timeShift } from './shift.ts';
import { measureSteady, NOT_STEADY, type Steady } from './steady.ts';

/** Most that are told of. */
const MOST_READINGS = 3;
/** A steady swing or offset is told of when at least so many notes were out of time … */
const LEAST_TIMING_FAULTS = 8;
/** … and at most this share of them still are. */
const TIMING_FAULTS_LEFT = 0.5;
/**
 * A take with a note in fewer of its slots than this is mostly silence, which no reading explains: hours of it must not cost eight
 * gradings.
 */
const LEAST_FILLED = 1 / 8;

export interface Readings {
  /** Those that clear most first. */
  readonly readings: readonly Reading[];
  /** What the summary tells of. */
  readonly steady: Steady;
}

const EVERY = (): boolean => true;

/** Looks for every kind of reading on a graded take. */
export function findReadings(ground: Ground): Readings {
  if (isMostlySilence(ground.base) || misses(ground.base, EVERY) < LEAST_CLEARED) {
    return { readings: [], steady: NOT_STEADY };
  }
  const measured = measureSteady(ground);
  const given: Reading[] = [];
  let steady = NOT_STEADY;
  for (const value of candidates(ground, measured)) {
    const tried = tryReading(ground, value);
    if (value.kind === 'timing') {
      if (!tried.isInTime) continue;
      steady = measured;
    }
    const { clears, of } = tried;
    if (isGiven(tried)) given.push({ ...value, clears, of });
  }
  return { readings: foremost(given), steady };
}

function isMostlySilence({ slots }: Report): boolean {
  let filled = 0;
  for (const { note } of slots) if (note !== null) filled++;
  return filled < LEAST_FILLED * slots.length;
}

interface Tried {
  readonly clears: number;
  readonly of: number;
  /** Whether it leaves at most half of enough notes out of time. */
  readonly isInTime: boolean;
}

function tryReading({ form, take, settings, base, axis }: Ground, value: ReadingValue): Tried {
  const played = applyReading({ form, take, settings }, value);
  const after = gradeTake(played.form, played.take, played.settings);
  const shift = shiftOf(value);
  const common = commonEntries(base, after, shift, timeShift(axis, shift));
  const outOfTime = (report: Report, isIn: (index: number) => boolean): number =>
    faultCount(report, ['early', 'late'], isIn);
  const timingBefore = outOfTime(base, common.hasBefore);
  return {
    ...clearedBy(base, after, common),
    isInTime:
      timingBefore >= LEAST_TIMING_FAULTS &&
      outOfTime(after, common.hasAfter) <= TIMING_FAULTS_LEFT * timingBefore,
  };
}

/** The best of each kind, those that clear most first; of those that clear the same, in the order of the kinds. */
function foremost(given: readonly Reading[]): readonly Reading[] {
  const ranked = given.toSorted(
    (one, other) =>
      other.clears - one.clears ||
      READING_KINDS.indexOf(one.kind) - READING_KINDS.indexOf(other.kind),
  );
  const best = ranked.filter(
    ({ kind }, index) => ranked.findIndex((reading) => reading.kind === kind) === index,
  );
  return best.slice(0, MOST_READINGS);
}
