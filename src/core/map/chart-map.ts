/** What is made of takes over one form: their map, and its holes and habits. */

import type { Form } from '../chart/index.ts';
import type { Report } from '../grading/report.ts';
import { RIGHT_HAND_REGISTER } from '../line/index.ts';
import type { Level, SlotsPerBeat } from '../words.ts';
import { expectedFeatures, octavesOf } from './baseline.ts';
import { countNotes, mapOfReport } from './count.ts';
import { featureCounts } from './features.ts';
import { type Finding, findHoles, isWaiting } from './holes.ts';
import type { ChartMap } from './model.ts';
import { layStretches, type Stretch } from './stretches.ts';
import { addMaps } from './sum.ts';

/** A take tells where a player goes when at least this share of its slots is clean. Own rule. */
export const LEAST_CLEAN_RATE = 0.5;

export interface MappedTakes {
  readonly stretches: readonly Stretch[];
  readonly map: ChartMap;
  /** Largest first. */
  readonly findings: readonly Finding[];
  /** Of what is counted, how much has too few notes or crossings to say anything of it. */
  readonly waiting: number;
  /** Takes that count, and those that were left out. */
  readonly takes: number;
  readonly leftOut: number;
}

/** A take as a map is told of it. */
export interface TakeForMap {
  readonly report: Report;
  /** Whether a reading of it is still to be decided. */
  readonly isUndecided: boolean;
}

/** Seed of the lines at random: any will do, and the same gives the same map. */
const SEED = 20_261;

/**
 * The map of takes over one form (of one plan, in one key), with its holes and habits. Takes that are undecided, or of which
 * less than half is clean, are left out. What is set beside them steps at random at the highest level among the takes.
 * Source: `grading.md`, "The map".
 */
export function mapTakes(form: Form, given: readonly TakeForMap[]): MappedTakes {
  const stretches = layStretches(form);
  const takes = given.filter(({ report, isUndecided }) => {
    const { cleanRate } = report.summary;
    return !isUndecided && cleanRate !== null && cleanRate >= LEAST_CLEAN_RATE;
  });
  const map = takes
    .map(({ report }) => mapOfReport(form, report))
    .reduce(addMaps, countNotes(stretches, []));
  const walk = { register: RIGHT_HAND_REGISTER, ...gridOf(takes), seed: SEED };
  const counts = featureCounts(map, octavesOf(walk));
  const judged = counts.filter((count) => !isWaiting(count));
  return {
    stretches: stretches.all,
    map,
    findings: judged.length === 0 ? [] : findHoles(counts, expectedFeatures(form, stretches, walk)),
    waiting: counts.length - judged.length,
    takes: takes.length,
    leftOut: given.length - takes.length,
  };
}

const BY_REACH: readonly Level[] = ['steps', 'thirds', 'leaps', 'free'];

function gridOf(takes: readonly TakeForMap[]): {
  readonly level: Level;
  readonly slotsPerBeat: SlotsPerBeat | null;
} {
  const levels = takes.map(({ report }) => report.level);
  const level = BY_REACH.findLast((one) => levels.includes(one)) ?? 'steps';
  const grids = new Set(takes.map(({ report }) => report.slotsPerBeat));
  const [only] = grids;
  return { level, slotsPerBeat: grids.size === 1 && only !== undefined ? only : null };
}
