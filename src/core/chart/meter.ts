/** Meters: which ones a chart may use, and how their bars are counted. */

import { nearestWordAnyCase } from '../nearest-word.ts';
import type { Meter } from './model.ts';

/** How the eighths of 5/8 and 7/8 are grouped when the chart does not say otherwise. Source: `grading.md`, "Time and grid". */
const USUAL_GROUPS: ReadonlyMap<number, readonly number[]> = new Map([
  [5, [3, 2]],
  [7, [2, 2, 3]],
]);

/**
 * Every meter a chart may use, 5/8 and 7/8 in their usual groups alone.
 * Source: `chart-text.md` and `grading.md`, "Time and grid".
 */
export const METERS: readonly Meter[] = [
  ...[2, 3, 4, 5, 6, 7].map((count): Meter => ({ count, unit: 4 })),
  ...[2, 3].map((count): Meter => ({ count, unit: 2 })),
  ...[6, 9, 12].map((count): Meter => ({ count, unit: 8 })),
  ...[...USUAL_GROUPS].map(([count, groups]): Meter => ({ count, unit: 8, groups })),
];

/**
 * Reads `4/4`, `12/8`, `2+3/8`; white space around is ignored. Groups have two to four eighths. Null for anything that is no meter
 * a chart may use.
 */
export function parseMeter(text: string): Meter | null {
  const wanted = text.trim();
  const known = METERS.find((meter) => formatMeter(meter) === wanted);
  if (known !== undefined) return known;
  if (!/^[2-4](?:\+[2-4]){1,2}\/8$/u.test(wanted)) return null;
  const groups = wanted.slice(0, -2).split('+').map(Number);
  const count = groups.reduce((sum, group) => sum + group, 0);
  const usual = USUAL_GROUPS.get(count);
  if (usual === undefined) return null;
  return { count, unit: 8, groups: usual.join() === groups.join() ? usual : groups };
}

/** Writes `4/4`, or `2+3/8` where the groups are not the usual ones; the inverse of `parseMeter`. */
export function formatMeter({ count, unit, groups }: Meter): string {
  const isUsual = groups === undefined || groups.join() === USUAL_GROUPS.get(count)?.join();
  // The short bar of a pickup has its eighths in one group.
  const isOne = groups?.length === 1;
  return `${isUsual || isOne ? count : groups.join('+')}/${unit}`;
}

/** The meter a chart may use whose name is nearest to a text that names none; null where none is near. */
export function nearestMeter(text: string): string | null {
  const names = METERS.map(formatMeter);
  const compact = text.slice(0, 40).replace(/\s/gu, '');
  return names.includes(compact) ? compact : nearestWordAnyCase(compact, names);
}

/** True for 6/8, 9/8 and 12/8, which beat in dotted quarters; 5/8 and 7/8 beat in eighths. */
export function isCompound({ unit, groups }: Meter): boolean {
  return unit === 8 && groups === undefined;
}

/** Beats in a bar: 4 in 4/4, 2 in 2/2, 2 in 6/8, 4 in 12/8, 5 in 5/8. */
export function beatsPerBar(meter: Meter): number {
  return isCompound(meter) ? meter.count / 3 : meter.count;
}

/** Quarter notes in one beat: 1 where quarters are counted, 2 in 2/2 and 3/2, 1.5 in compound meters, 0.5 in 5/8 and 7/8. */
export function quartersPerBeat(meter: Meter): 0.5 | 1 | 1.5 | 2 {
  if (meter.unit === 2) return 2;
  if (meter.unit === 4) return 1;
  return isCompound(meter) ? 1.5 : 0.5;
}

/** Eighth notes in a beat: 2, 4 in 2/2 and 3/2, 3 in compound meters, 1 in 5/8 and 7/8. */
export function eighthsPerBeat(meter: Meter): 1 | 2 | 3 | 4 {
  if (meter.unit === 2) return 4;
  if (meter.unit === 4) return 2;
  return isCompound(meter) ? 3 : 1;
}

/** True when both are the same meter in the same groups. */
export function isSameMeter(one: Meter, other: Meter): boolean {
  return (
    one.count === other.count &&
    one.unit === other.unit &&
    one.groups?.join() === other.groups?.join()
  );
}

/** Beats of a bar, from 0, on which a group of eighths begins; in other meters every beat. */
export function groupStarts(meter: Meter): ReadonlySet<number> {
  const groups = meter.groups ?? Array.from({ length: beatsPerBar(meter) }, () => 1);
  let start = 0;
  return new Set(
    groups.map((length) => {
      start += length;
      return start - length;
    }),
  );
}
