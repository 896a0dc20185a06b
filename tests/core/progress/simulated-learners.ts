/**
 * Invented learners whose true chance of a clean slot is known, to see how often the verdict on their takes is right.
 *
 * A learner plays a slot clean with a chance that falls with the tempo along a logistic curve, from nearly always well
 * below the comfortable tempo to one in two well above it; practice moves the comfortable tempo up, each doubling of the
 * slots played by the same amount. A change is on time with its own chance, halfway between the slot's and certainty.
 *
 * A raise is wrong when the true rate at the tempo just played is under the 0.90 a raise needs: the share of raises that are is
 * what a player feels. It is larger than the 2.5 in 100 by which the interval of one judgement errs, since who is just under
 * 0.90 is judged again after every take, and smaller, since many raises come to players well above it.
 *
 * Faults cluster in three ways (`Hand`). Slots that go as the one before, and stumbles that cost three slots of a bar at once,
 * make counts scatter more than independent slots do. Bars that are harder than others, the same in every chorus, do not: all
 * bars are played equally often. The shape and every number are made up; real hands have all three, and days of good and bad
 * form besides, which a player's own takes of one day cannot tell from progress.
 */

import {
  judgeReadiness,
  type TakeEvidence,
  weakPlaces,
  wilsonInterval,
} from '../../../src/core/progress/index.ts';
import { RAISE_CLEAN_RATE } from '../../../src/core/progress/readiness.ts';
import { between, type Chance, chanceOf, normal } from './chance.ts';
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
  readonly hand: Hand;
}

/** How the faults of a player lie; every rate stays what it is. */
export interface Hand {
  /** The chance that a slot simply goes as the one before it: 0.2 makes the variance of a long count 1.5-fold. */
  readonly carry: number;
  /** The share of faults that come in stumbles of three slots of one bar. */
  readonly stumbles: number;
  /** How unequal the bars are: the standard deviation of their log-odds. */
  readonly unevenness: number;
}

export const INDEPENDENT: Hand = { carry: 0, stumbles: 0, unevenness: 0 };

/** Slots after which practice begins to count double. */
const FIRST_SLOTS = 500;

/** The true chance of a clean slot at a tempo after so many slots of practice. */
export function trueRate(learner: Learner, tempoBpm: number, practisedSlots: number): number {
  const { comfortBpm, softnessBpm, gainBpm } = learner;
  const comfort = comfortBpm + gainBpm * Math.log2(1 + practisedSlots / FIRST_SLOTS);
  return LOW_RATE + (TOP_RATE - LOW_RATE) / (1 + Math.exp((tempoBpm - comfort) / softnessBpm));
}

/** Outcomes one after the other, each `true` with a chance of `rate`. */
function outcomes(
  chance: Chance,
  count: number,
  rate: number,
  carry: number,
  last?: boolean,
): readonly boolean[] {
  const played: boolean[] = [];
  let before = last;
  for (let slot = 0; slot < count; slot++) {
    before = before !== undefined && chance() < carry ? before : chance() < rate;
    played.push(before);
  }
  return played;
}

const trues = (values: readonly boolean[]): number => values.filter(Boolean).length;

/** How hard each bar is for one player, in log-odds. */
export function barOffsets(chance: Chance, { unevenness }: Hand): readonly number[] {
  return Array.from({ length: BARS }, () => (unevenness === 0 ? 0 : unevenness * normal(chance)));
}

/** The rates of the bars, as far apart as the offsets say, with the given mean; by bisection. */
function barRates(offsets: readonly number[], rate: number): readonly number[] {
  if (offsets.every((offset) => offset === 0)) return offsets.map(() => rate);
  const at = (shift: number) => offsets.map((offset) => 1 / (1 + Math.exp(-shift - offset)));
  let [low, high] = [-20, 20];
  for (let step = 0; step < 30; step++) {
    const middle = (low + high) / 2;
    const mean = at(middle).reduce((sum, one) => sum + one, 0) / BARS;
    if (mean < rate) low = middle;
    else high = middle;
  }
  return at((low + high) / 2);
}

const STUMBLE_SLOTS = 3;

/** Clean slots of one bar in which one stumble may come. */
function barWithStumbles(chance: Chance, rate: number, share: number): number {
  const stumbling = (share * (1 - rate) * SLOTS_PER_BAR) / STUMBLE_SLOTS;
  const single =
    ((1 - share) * (1 - rate) * SLOTS_PER_BAR) / (SLOTS_PER_BAR - STUMBLE_SLOTS * stumbling);
  const left = chance() < stumbling ? SLOTS_PER_BAR - STUMBLE_SLOTS : SLOTS_PER_BAR;
  let clean = 0;
  for (let slot = 0; slot < left; slot++) if (chance() >= single) clean++;
  return clean;
}

/** Clean slots of each bar, in the order they were played. */
function playBars(
  chance: Chance,
  rate: number,
  { carry, stumbles }: Hand,
  choruses: number,
  offsets: readonly number[],
): readonly number[] {
  const rates = barRates(offsets, rate);
  let before: boolean | undefined;
  return Array.from({ length: choruses * BARS }, (_, index) => {
    const own = rates[index % BARS] ?? rate;
    if (stumbles > 0) return barWithStumbles(chance, own, stumbles);
    const slots = outcomes(chance, SLOTS_PER_BAR, own, carry, before);
    before = slots.at(-1);
    return trues(slots);
  });
}

/** A take of whole choruses by a learner whose true rate is given. */
export function playTake(
  chance: Chance,
  rate: number,
  hand: Hand,
  choruses: number,
  playedAtMs: number,
  offsets: readonly number[] = barOffsets(chance, hand),
): TakeEvidence {
  const played = playBars(chance, rate, hand, choruses, offsets);
  const arrivals = outcomes(chance, choruses * BARS, (1 + rate) / 2, 0);
  const bars = Array.from({ length: BARS }, (_, index) => {
    const own = played.filter((_, bar) => bar % BARS === index);
    const clean = own.reduce((sum, count) => sum + count, 0);
    const faultySquares = own.reduce((sum, count) => sum + (SLOTS_PER_BAR - count) ** 2, 0);
    const slots = own.length * SLOTS_PER_BAR;
    return { bar: index + 1, slots, clean, times: own.length, faultySquares };
  });
  const clean = bars.reduce((sum, bar) => sum + bar.clean, 0);
  return {
    ...{ playedAtMs, choruses, slots: choruses * CHORUS_SLOTS, clean, bars },
    ...{ changesCounted: arrivals.length, changesOnTime: trues(arrivals), lateChanges: [] },
    ...{ changesUnproven: 0, changesLeftOut: 0 },
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

/** Learners who do what the verdict says after every take of so many choruses, two months long. */
export function followVerdicts(
  learners: number,
  hand: Hand,
  choruses: number,
  seed: number,
): CareerFigures {
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
      hand,
    };
    const offsets = barOffsets(chance, hand);
    let tempoBpm = Math.round(learner.comfortBpm * between(chance, 0.6, 1.1));
    let practised = 0;
    const history = new Map<number, TakeEvidence[]>();
    for (let day = 0; day < 60; day++) {
      for (let turn = 0; turn < 3; turn++) {
        const nowMs = NOW_MS + day * DAY_MS + turn * 600_000;
        const rate = trueRate(learner, tempoBpm, practised);
        const played = playTake(chance, rate, hand, choruses, nowMs, offsets);
        const takes = [played, ...(history.get(tempoBpm) ?? [])];
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

/** The share of players of one steady true rate who are told to raise by the time they have played so many takes, judged after each. */
export function raisedWithin(
  { takes, choruses }: { readonly takes: number; readonly choruses: number },
  rate: number,
  hand: Hand,
  players: number,
  seed: number,
): number {
  const chance = chanceOf(seed);
  let raised = 0;
  for (let player = 0; player < players; player++) {
    const played: TakeEvidence[] = [];
    const offsets = barOffsets(chance, hand);
    for (let turn = 0; turn < takes; turn++) {
      const nowMs = NOW_MS + turn * 600_000;
      played.unshift(playTake(chance, rate, hand, choruses, nowMs, offsets));
      if (judgeReadiness(played, 60, nowMs).verdict !== 'raise') continue;
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
export function falseWeakPlaces(rate: number, hand: Hand, players: number, seed: number): number {
  const chance = chanceOf(seed);
  let alarmed = 0;
  for (let player = 0; player < players; player++) {
    const played = take({ evidence: playTake(chance, rate, hand, 3, NOW_MS) });
    if (weakPlaces([played])[0]?.standing === 'surely') alarmed++;
  }
  return alarmed / players;
}
