/**
 * Invented players whose true rate of gain is known, and how often the stated interval covers it. Each plays on some
 * days of eight weeks; the clean tempo of a day is a straight line plus the form of the day, in whole beats.
 */

import { rateOfGain } from '../../../src/core/progress/index.ts';
import { between, type Chance, chanceOf, normal } from './chance.ts';
import { DAY_MS, NOW_MS, take } from './takes.ts';

export interface DayForm {
  /** Share of the form of one practice day that is left on the next: 0 for days that know nothing of each other. */
  readonly carry: number;
}

export interface GainCoverage {
  readonly told: number;
  readonly covered: number;
  readonly tooThin: number;
}

/** Plays many players and counts how often the interval holds the true rate. */
export function gainCoverage(players: number, { carry }: DayForm, seed: number): GainCoverage {
  const chance = chanceOf(seed);
  let told = 0;
  let covered = 0;
  for (let player = 0; player < players; player++) {
    const perWeek = between(chance, -1, 4);
    const gain = rateOfGain({ takes: playedDays(chance, perWeek, carry) }, NOW_MS, 0);
    if (gain.kind === 'tooThin') continue;
    told++;
    if (gain.lower <= perWeek && perWeek <= gain.upper) covered++;
  }
  return { told, covered, tooThin: players - told };
}

function playedDays(chance: Chance, perWeek: number, carry: number) {
  const startBpm = between(chance, 50, 140);
  const scatterBpm = between(chance, 1, 5);
  const diligence = between(chance, 0.1, 0.6);
  let form = normal(chance);
  const takes = [];
  for (let daysAgo = 55; daysAgo >= 0; daysAgo--) {
    if (chance() > diligence) continue;
    form = carry * form + Math.sqrt(1 - carry ** 2) * normal(chance);
    const tempoBpm = Math.round(startBpm + (perWeek * (55 - daysAgo)) / 7 + scatterBpm * form);
    takes.push(take({ tempoBpm, evidence: { playedAtMs: NOW_MS - daysAgo * DAY_MS } }));
  }
  return takes;
}
