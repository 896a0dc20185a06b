/**
 * Invented players whose true rate of gain is known, and how often the stated interval covers it. Each plays on some days of
 * eight weeks, every take at the tempo the verdict on the takes before asks for: some begin far below what they can, some a
 * little above. The tempo at which nine slots in ten are clean is a straight line plus the form of the day.
 */

import { judgeReadiness, rateOfGain, type TakeEvidence } from '../../../src/core/progress/index.ts';
import { between, type Chance, chanceOf, normal } from './chance.ts';
import { type Hand, type Learner, playTake, trueRate } from './simulated-learners.ts';
import { DAY_MS, dayTempos, NOW_MS, TODAY, take } from './takes.ts';

export interface Player {
  /** Share of the form of one practice day that is left on the next: 0 for days that know nothing of each other. */
  readonly carry: number;
  /** Standard deviation of the form of a day, in beats per minute. */
  readonly formBpm: number;
  /** Tempo of the first take over the one at which nine in ten are clean: least and most. */
  readonly start: readonly [number, number];
  readonly hand: Hand;
}

export interface GainCoverage {
  readonly told: number;
  readonly covered: number;
  /** Mean of the rate told less the true one, in beats per minute a week, of those told. */
  readonly biasBpm: number;
}

const DAYS = 56;
const TAKES_A_DAY = 4;

/** Plays many players and counts how often the interval holds the true rate. */
export function gainCoverage(players: number, player: Player, seed: number): GainCoverage {
  const chance = chanceOf(seed);
  let told = 0;
  let covered = 0;
  let bias = 0;
  for (let index = 0; index < players; index++) {
    const perWeek = between(chance, -1, 4);
    const takes = playedDays(chance, perWeek, player);
    const gain = rateOfGain(dayTempos(takes), TODAY + 1);
    if (gain.kind !== 'gain') continue;
    told++;
    bias += gain.bpmPerWeek - perWeek;
    if (gain.lower <= perWeek && perWeek <= gain.upper) covered++;
  }
  return { told, covered, biasBpm: bias / told };
}

function playedDays(chance: Chance, perWeek: number, { carry, formBpm, start, hand }: Player) {
  const learner: Learner = {
    ...{ comfortBpm: between(chance, 60, 120), softnessBpm: between(chance, 4, 12) },
    ...{ gainBpm: 0, hand },
  };
  const diligence = between(chance, 0.15, 0.7);
  const nineInTenBpm = tempoAt(learner, 0.9);
  let tempoBpm = Math.round(nineInTenBpm * between(chance, ...start));
  let form = normal(chance);
  const history = new Map<number, TakeEvidence[]>();
  const takes = [];
  for (let day = 0; day < DAYS; day++) {
    if (chance() > diligence) continue;
    form = carry * form + Math.sqrt(1 - carry ** 2) * normal(chance);
    const comfortBpm = learner.comfortBpm + (perWeek * day) / 7 + formBpm * form;
    for (let turn = 0; turn < TAKES_A_DAY; turn++) {
      const playedAtMs = NOW_MS - (DAYS - 1 - day) * DAY_MS + turn * 600_000;
      const rate = trueRate({ ...learner, comfortBpm }, tempoBpm, 0);
      const evidence = playTake(chance, rate, hand, 1, playedAtMs);
      takes.unshift(take({ tempoBpm, evidence }));
      const own = [evidence, ...(history.get(tempoBpm) ?? [])];
      history.set(tempoBpm, own);
      tempoBpm = judgeReadiness(own, tempoBpm, playedAtMs).nextTempoBpm;
    }
  }
  return takes;
}

/** The tempo at which a learner's true rate is so much; by bisection. */
function tempoAt(learner: Learner, rate: number): number {
  let [slow, fast] = [0, 400];
  for (let step = 0; step < 40; step++) {
    const middle = (slow + fast) / 2;
    if (trueRate(learner, middle, 0) > rate) slow = middle;
    else fast = middle;
  }
  return slow;
}
