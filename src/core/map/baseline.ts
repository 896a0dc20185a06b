/** How often each feature comes in lines that step at random, and how much that varies from chorus to chorus. */

import type { Form } from '../chart/index.ts';
import { countNotes } from './count.ts';
import { type Feature, featureCounts, octaveOf } from './features.ts';
import type { Stretches } from './stretches.ts';
import { randomWalk, type WalkSettings } from './walk.ts';

export interface Expected {
  readonly feature: Feature;
  /** 0 to 1. */
  readonly share: number;
  /** Of independent notes, how many tell as much as one of these: 1 or less, since a line's notes hang together. */
  readonly weight: number;
}

/** Choruses of the random line. More make the shares more exact; so many know one of 7 tones to a hundredth. */
const CHORUSES = 400;

/** What lines that step at random show over a form. The same settings give the same. */
export function expectedFeatures(
  form: Form,
  stretches: Stretches,
  settings: WalkSettings,
): readonly Expected[] {
  const notes = randomWalk(form, stretches, settings, CHORUSES);
  const slots = notes.length / CHORUSES;
  const octaves = octavesOf(settings);
  const choruses = Array.from({ length: CHORUSES }, (_, chorus) => {
    // With the note before it, from which the first change is crossed, and the one after, to which the last is left.
    const from = Math.max(0, chorus * slots - 1);
    return featureCounts(countNotes(stretches, notes.slice(from, (chorus + 1) * slots)), octaves);
  });
  return (choruses[0] ?? []).map(({ feature }, index) => {
    const series = choruses.map((counts) => counts[index] ?? { count: 0, of: 0 });
    const of = series.reduce((sum, one) => sum + one.of, 0);
    const share = of === 0 ? 0 : series.reduce((sum, one) => sum + one.count, 0) / of;
    return { feature, share, weight: weightOf(series, share) };
  });
}

export function octavesOf({ register }: Pick<WalkSettings, 'register'>): readonly number[] {
  const first = octaveOf(register.lowestMidi);
  // An octave of which the register has but a key or two is none to be missed.
  const last = octaveOf(register.highestMidi - 2);
  return Array.from({ length: last - first + 1 }, (_, index) => first + index);
}

/**
 * Binomial variance over the variance that sums over choruses have, covariances of neighbouring choruses included up to the
 * first lag at which they vanish. Source: C. J. Geyer, "Practical Markov Chain Monte Carlo", Statistical Science 7 (1992),
 * 473–483, initial positive sequence; from memory.
 */
function weightOf(
  series: readonly { readonly count: number; readonly of: number }[],
  share: number,
): number {
  const residuals = series.map(({ count, of }) => count - share * of);
  const covariance = (lag: number): number => {
    let sum = 0;
    for (let index = lag; index < residuals.length; index++) {
      sum += (residuals[index] ?? 0) * (residuals[index - lag] ?? 0);
    }
    return sum / residuals.length;
  };
  let variance = covariance(0);
  for (let lag = 1; lag < residuals.length / 4; lag++) {
    const next = covariance(lag);
    if (next <= 0) break;
    variance += 2 * next;
  }
  const notes = series.reduce((sum, { of }) => sum + of, 0) / series.length;
  const binomial = notes * share * (1 - share);
  return variance <= binomial ? 1 : binomial / variance;
}
