/**
 * Invented learners whose true chance of a clean slot is known, to see how often the verdict on their takes is right.
 *
 * A learner plays a slot clean with a chance that falls with the tempo along a logistic curve, from nearly always well
 * below the comfortable tempo to one in two well above it; practice moves the comfortable tempo up, each doubling of the
 * slots played by the same amount. A change is on time with its own chance, halfway between the slot's and certainty.
 * `carry` is the chance that a slot simply goes as the one before it did: 0 makes slots independent, 0.2 makes faults
 * cluster mildly (the variance of a long count is then 1.5 times that of independent slots); the rate stays what it is.
 * The shape and every number are made up; real hands cluster by bar and by day as well.
 */

import {
  judgeReadiness,
  type TakeEvidence,
  weakPlaces,
  wilsonInterval,
} from '../../../src/core/progress/index.ts';
import { RAISE_CLEAN_RATE } from '../../../src/core/progress/readiness.ts';
import { between, type Chance, chanceOf } from './chance.ts';
import { DAY_MS, NOW_MS, take } from './takes.ts';

/** The form they play: twelve bars of eighths in 4/4, a change into each bar. */
const BARS = 12;
const SLOTS_PER_BAR = 8;
const CHORUS_SLOTS = BARS * SLOTS_PER_BAR;

const TOP_RATE = 0.995;
const LOW_RATE = 0.5;

export interface Learner {
  readonly comfortBpm: number;
  /** How many beats per minute slower or faster make the middle of the curve. */
  readonly softnessBpm: number;
  /** What each doubling of practice adds to the comfortable tempo. */
  readonly gainBpm: number;
  readonly carry: number;
}

/** Slots after which practice begins to count double. */
const FIRST_SLOTS = 500;

/** The true chance of a clean slot at a tempo after so many slots of practice. */
export function trueRate(learner: Learner, tempoBpm: number, practisedSlots: number): number {
  const { comfortBpm, softnessBpm, gainBpm } = learner;
  const comfort = comfortBpm + gainBpm * Math.log2(1 + practisedSlots / FIRST_SLOTS);
  return LOW_RATE + (TOP_RATE - LOW_RATE) / (1 + Math.exp((tempoBpm - comfort) / softnessBpm));
}

/** Outcomes one after the other, each `true` with a chance of `rate`. */
function outcomes(chance: Chance, count: number, rate: number, carry: number): readonly boolean[] {
  const played: boolean[] = [];
  for (let slot = 0; slot < count; slot++) {
    const before = played[slot - 1];
    played.push(before !== undefined && chance() < carry ? before : chance() < rate);
  }
  return played;
}

const trues = (values: readonly boolean[]): number => values.filter(Boolean).length;

/** A take of whole choruses by a learner whose true rate is given. */
export function playTake(
  chance: Chance,
  rate: number,
  carry: number,
  choruses: number,
  playedAtMs: number,
): TakeEvidence {
  const clean = outcomes(chance, choruses * CHORUS_SLOTS, rate, carry);
  const arrivals = outcomes(chance, choruses * BARS, (1 + rate) / 2, 0);
  const bars = Array.from({ length: BARS }, (_, index) => {
    const own = clean.filter((_, slot) => Math.floor(slot / SLOTS_PER_BAR) % BARS === index);
    return { bar: index + 1, slots: own.length, clean: trues(own) };
  });
  return {
    ...{ playedAtMs, choruses, slots: clean.length, clean: trues(clean), bars },
    ...{ changesCounted: arrivals.length, changesOnTime: trues(arrivals), lateChanges: [] },
  };
}

export interface CareerFigures {
  readonly raises: number;
  /** Raises at a tempo where the true rate was under what a raise needs. */
  readonly wrong: number;
  /** Of these, more than five points under. */
  readonly farWrong: number;
  readonly eases: number;
}

/** Learners who do what the verdict says after every take, two months long. */
export function followVerdicts(learners: number, carry: number, seed: number): CareerFigures {
  const chance = chanceOf(seed);
  let raises = 0;
  let wrong = 0;
  let farWrong = 0;
  let eases = 0;
  for (let index = 0; index < learners; index++) {
    const learner: Learner = {
      comfortBpm: between(chance, 60, 120),
      softnessBpm: between(chance, 4, 12),
      gainBpm: between(chance, 0, 8),
      carry,
    };
    let tempoBpm = Math.round(learner.comfortBpm * between(chance, 0.6, 1.1));
    let practised = 0;
    const history = new Map<number, TakeEvidence[]>();
    for (let day = 0; day < 60; day++) {
      for (let turn = 0; turn < 3; turn++) {
        const nowMs = NOW_MS + day * DAY_MS + turn * 600_000;
        const rate = trueRate(learner, tempoBpm, practised);
        const played = playTake(chance, rate, carry, 1, nowMs);
        // Three choruses are all the verdict looks at.
        const takes = [played, ...(history.get(tempoBpm) ?? [])].slice(0, 3);
        history.set(tempoBpm, takes);
        practised += played.slots;
        const { verdict, nextTempoBpm } = judgeReadiness(takes, tempoBpm, nowMs);
        if (verdict === 'raise') {
          raises++;
          if (rate < RAISE_CLEAN_RATE) wrong++;
          if (rate < RAISE_CLEAN_RATE - 0.05) farWrong++;
        }
        if (verdict === 'ease') eases++;
        tempoBpm = nextTempoBpm;
      }
    }
  }
  return { raises, wrong, farWrong, eases };
}

/**
 * The share of players of one steady true rate who are told to raise by the time they have played so many takes of one
 * chorus each, judged after every one from the third on.
 */
export function raisedWithin(
  takes: number,
  rate: number,
  carry: number,
  players: number,
  seed: number,
): number {
  const chance = chanceOf(seed);
  let raised = 0;
  for (let player = 0; player < players; player++) {
    const played: TakeEvidence[] = [];
    for (let turn = 0; turn < takes; turn++) {
      const nowMs = NOW_MS + turn * 600_000;
      played.unshift(playTake(chance, rate, carry, 1, nowMs));
      if (turn < 2 || judgeReadiness(played, 60, nowMs).verdict !== 'raise') continue;
      raised++;
      break;
    }
  }
  return raised / players;
}

/** The share of players whose interval holds their true rate, over rates and lengths as takes have them. */
export function wilsonCoverage(carry: number, players: number, seed: number): number {
  const chance = chanceOf(seed);
  let covered = 0;
  for (let player = 0; player < players; player++) {
    const rate = between(chance, 0.7, 0.98);
    const slots = Math.floor(between(chance, 64, 289));
    const { lower, upper } = wilsonInterval(trues(outcomes(chance, slots, rate, carry)), slots);
    if (lower <= rate && rate <= upper) covered++;
  }
  return covered / players;
}

/**
 * The share of players, equally strong in every bar, who are told of a surely weak place after three choruses: false alarms,
 * since the strongest of many chance dips is looked at.
 */
export function falseWeakPlaces(
  rate: number,
  carry: number,
  players: number,
  seed: number,
): number {
  const chance = chanceOf(seed);
  let alarmed = 0;
  for (let player = 0; player < players; player++) {
    const played = take({ evidence: playTake(chance, rate, carry, 3, NOW_MS) });
    if (weakPlaces([played])[0]?.standing === 'surely') alarmed++;
  }
  return alarmed / players;
}
