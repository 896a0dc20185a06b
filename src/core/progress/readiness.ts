/**
 * Whether the tempo should be raised, held or eased. Source of every number: `grading.md`, "Ready for a faster tempo", but
 * for what clusters of faults ask for: `clustering.ts`.
 */

import { sumByBar } from '../grading/index.ts';
import type { Readiness } from '../words.ts';
import { designEffectWithin, effectiveInterval } from './clustering.ts';
import { DAY_MS } from './days.ts';
import type { BarEvidence, ChangeEvidence, TakeEvidence } from './evidence.ts';
import type { RateInterval } from './wilson.ts';

export const WINDOW_DAYS = 30;
/** From when on takes count that are judged at a moment, both in ms since 1970. */
export function windowStartMs(nowMs: number): number {
  return nowMs - WINDOW_DAYS * DAY_MS;
}

export const RAISE_CHORUSES = 2;
export const RAISE_SLOTS = 64;
export const RAISE_CLEAN_RATE = 0.9;
export const RAISE_ON_TIME_SHARE = 0.9;
export const RAISE_BAR_RATE = 0.75;
export const EASE_SLOTS = 32;
export const EASE_CLEAN_RATE = 0.75;

/** A raise is told from so many takes, or from one of so many choruses: one day's luck is not two days'. */
export const RAISE_TAKES = 2;
export const LONG_TAKE_CHORUSES = 4;
/** Takes count, newest first, until these and as many slots and takes as a raise needs are reached. */
const COUNTED_CHORUSES = 3;
/** A bar with fewer judged slots tells too little of itself. */
const BAR_SLOTS = 4;

/**
 * What is judged: takes, or the choruses of endless play at its present tempo. Of those two are enough, in however many takes: the next
 * two can take the verdict back.
 */
export type Judged = 'takes' | 'endless';

/** One thing that stands in the way of a raise. */
export type Obstacle =
  /** So many takes count for nothing until the player says how they are to be read. */
  | { readonly kind: 'undecided'; readonly takes: number }
  | { readonly kind: 'choruses'; readonly missing: number }
  | { readonly kind: 'slots'; readonly missing: number }
  /** Enough was played, but in too few takes, none of them long. */
  | { readonly kind: 'takes'; readonly missing: number }
  | { readonly kind: 'cleanRate'; readonly lower: number }
  | {
      readonly kind: 'changes';
      readonly onTimeShare: number;
      readonly worst: readonly ChangeEvidence[];
    }
  | { readonly kind: 'bars'; readonly bars: readonly number[] };

export interface ReadinessVerdict {
  readonly verdict: Readiness;
  /** The tempo to play next: raised, eased or the same. */
  readonly nextTempoBpm: number;
  readonly choruses: number;
  readonly slots: number;
  readonly clean: number;
  /** Of the clean rate, wider where faults come in clusters. */
  readonly interval: RateInterval;
  /** Why it is not a raise; empty when it is one. */
  readonly obstacles: readonly Obstacle[];
}

/** Raises a tempo: +4 %, at least +2, in whole beats per minute. */
export function raisedTempoBpm(tempoBpm: number): number {
  return Math.max(Math.round(tempoBpm * 1.04), Math.round(tempoBpm) + 2);
}

/** Eases a tempo: −8 %, in whole beats per minute and at least one less. */
export function easedTempoBpm(tempoBpm: number): number {
  return Math.max(1, Math.min(Math.round(tempoBpm * 0.92), Math.ceil(tempoBpm) - 1));
}

/** The takes that count, summed. */
interface Evidence {
  readonly judged: Judged;
  readonly takes: readonly TakeEvidence[];
  readonly choruses: number;
  readonly slots: number;
  readonly clean: number;
  readonly interval: RateInterval;
}

/**
 * Judges a tempo on its takes of the 30 days before `nowMs`, newest first, until there are enough: three choruses, 64 slots, and two
 * takes or one of four choruses. Where faults come in clusters, as many more choruses and slots as the design effect says
 * (`clustering.ts`), and the interval of the clean rate is that of the effective sample size: slots over the design effect. With no take
 * at all the verdict is `hold`. Takes that may have been misread count for nothing until it is decided, and are named among the
 * obstacles. How often it errs: `npm run bench -- verdicts`.
 */
export function judgeReadiness(
  takes: readonly TakeEvidence[],
  tempoBpm: number,
  nowMs: number,
  judged: Judged = 'takes',
): ReadinessVerdict {
  const evidence = countedEvidence(takes, nowMs, judged);
  const { choruses, slots, clean, interval } = evidence;
  const missing = CONDITIONS.flatMap((condition) => condition(evidence) ?? []);
  const obstacles = missing.length === 0 ? [] : [...undecided(takes, nowMs), ...missing];
  const base = { choruses, slots, clean, interval, obstacles };
  if (obstacles.length === 0) {
    return { ...base, verdict: 'raise', nextTempoBpm: raisedTempoBpm(tempoBpm) };
  }
  if (isToEase(evidence)) {
    return { ...base, verdict: 'ease', nextTempoBpm: easedTempoBpm(tempoBpm) };
  }
  return { ...base, verdict: 'hold', nextTempoBpm: tempoBpm };
}

/** The verdict alone, with its counts: for whoever judges every day of years. Otherwise as `judgeReadiness`. */
export function judgeInShort(
  takes: readonly TakeEvidence[],
  nowMs: number,
): Pick<ReadinessVerdict, 'verdict' | 'slots' | 'clean'> {
  const evidence = countedEvidence(takes, nowMs, 'takes');
  const { slots, clean } = evidence;
  if (CONDITIONS.every((condition) => condition(evidence) === null)) {
    return { verdict: 'raise', slots, clean };
  }
  return { verdict: isToEase(evidence) ? 'ease' : 'hold', slots, clean };
}

function isToEase({ slots, interval }: Evidence): boolean {
  return slots >= EASE_SLOTS && interval.upper < EASE_CLEAN_RATE;
}

/** The takes that count. */
function countedEvidence(takes: readonly TakeEvidence[], nowMs: number, judged: Judged): Evidence {
  const recent = recentTakes(takes, nowMs).filter(isDecided);
  const designEffect = designEffectWithin(newestBlocks(recent));
  const counted = newestOf(recent, designEffect);
  let [choruses, slots, clean] = [0, 0, 0];
  for (const take of counted) {
    choruses += take.choruses;
    slots += take.slots;
    clean += take.clean;
  }
  const interval = effectiveInterval(clean, slots, designEffect);
  return { judged, takes: counted, choruses, slots, clean, interval };
}

/**
 * Blocks the design effect is told from. Told from the takes that count alone it would be lowest just where chance left few faults,
 * and each new take would draw that lot again. Own rule: of seeded players with strong clusters it takes wrong raises from 6 to
 * 4 in 100, and no raise comes later (`npm run bench -- verdicts`).
 */
const CLUSTERING_BLOCKS = 5;

/**
 * Takes, newest first, in blocks of as many as a verdict needs at least: within one of them the player is taken to be the same. An
 * older block in which the player plainly was not tells of progress, and is left out.
 */
function newestBlocks(takes: readonly TakeEvidence[]): readonly (readonly TakeEvidence[])[] {
  const blocks: (readonly TakeEvidence[])[] = [];
  for (let from = 0; from < takes.length && blocks.length < CLUSTERING_BLOCKS; ) {
    const block = newestOf(takes.slice(from), 1);
    blocks.push(block);
    from += block.length;
  }
  return blocks.filter((block, index) => index === 0 || !hasChanged(block));
}

/** So many standard deviations between the clean rates of a block's newest and oldest take are no chance. Own choice. */
const CHANGED_Z = 3;

function hasChanged(block: readonly TakeEvidence[]): boolean {
  const [newest] = block;
  const oldest = block.at(-1);
  if (newest === undefined || oldest === undefined) return false;
  const rate = (newest.clean + oldest.clean) / (newest.slots + oldest.slots);
  const variance = rate * (1 - rate) * (1 / newest.slots + 1 / oldest.slots);
  const difference = newest.clean / newest.slots - oldest.clean / oldest.slots;
  return difference ** 2 > CHANGED_Z ** 2 * variance;
}

function isDecided({ isUndecided }: TakeEvidence): boolean {
  return isUndecided !== true;
}

/** That takes were left out is said, and is no obstacle to a raise that the others carry. */
function undecided(takes: readonly TakeEvidence[], nowMs: number): readonly Obstacle[] {
  const recent = recentTakes(takes, nowMs);
  const left = recent.length - recent.filter(isDecided).length;
  return left === 0 ? [] : [{ kind: 'undecided', takes: left }];
}

/** Of takes, newest first, those that count: in choruses and slots so many times what is enough. */
function newestOf(takes: readonly TakeEvidence[], times: number): readonly TakeEvidence[] {
  let choruses = 0;
  let slots = 0;
  const next = takes.findIndex((take, index) => {
    const isEnough = choruses >= COUNTED_CHORUSES * times && slots >= RAISE_SLOTS * times;
    if (isEnough && missingTakes(takes.slice(0, index)) === 0) return true;
    choruses += take.choruses;
    slots += take.slots;
    return false;
  });
  return next === -1 ? takes : takes.slice(0, next);
}

function missingTakes(takes: readonly TakeEvidence[]): number {
  const hasLong = takes.some(({ choruses }) => choruses >= LONG_TAKE_CHORUSES);
  return hasLong ? 0 : Math.max(0, RAISE_TAKES - takes.length);
}

/** Newest first. */
function recentTakes(takes: readonly TakeEvidence[], nowMs: number): readonly TakeEvidence[] {
  const oldestMs = windowStartMs(nowMs);
  const newestFirst = isNewestFirst(takes)
    ? takes
    : takes.toSorted((one, other) => other.playedAtMs - one.playedAtMs);
  const tooOld = newestFirst.findIndex(({ playedAtMs }) => playedAtMs < oldestMs);
  return tooOld === -1 ? newestFirst : newestFirst.slice(0, tooOld);
}

function isNewestFirst(takes: readonly TakeEvidence[]): boolean {
  return takes.every(
    ({ playedAtMs }, index) => index === 0 || playedAtMs <= (takes[index - 1]?.playedAtMs ?? 0),
  );
}

/** What a raise needs, each with what it says when it is not met; those that take longest last. */
const CONDITIONS: readonly ((evidence: Evidence) => Obstacle | null)[] = [
  ({ choruses }) =>
    choruses < RAISE_CHORUSES ? { kind: 'choruses', missing: RAISE_CHORUSES - choruses } : null,
  ({ slots }) => (slots < RAISE_SLOTS ? { kind: 'slots', missing: RAISE_SLOTS - slots } : null),
  ({ judged, takes }) => {
    const missing = judged === 'endless' ? 0 : missingTakes(takes);
    return missing > 0 ? { kind: 'takes', missing } : null;
  },
  ({ interval: { lower } }) => (lower < RAISE_CLEAN_RATE ? { kind: 'cleanRate', lower } : null),
  lateChanges,
  ({ takes }) => {
    const bars = weakBars(takes);
    return bars.length === 0 ? null : { kind: 'bars', bars };
  },
];

function lateChanges({ takes }: Evidence): Obstacle | null {
  const counted = takes.reduce(
    (total, take) => total + take.changesCounted - take.changesLeftOut,
    0,
  );
  const onTime = takes.reduce((total, take) => total + take.changesOnTime, 0);
  if (onTime >= RAISE_ON_TIME_SHARE * counted) return null;
  const worst = mostFrequent(takes.flatMap((take) => take.lateChanges));
  return { kind: 'changes', onTimeShare: onTime / counted, worst };
}

/** Changes that were most often not on time, most frequent first, then in the order of the form. */
function mostFrequent(changes: readonly ChangeEvidence[]): readonly ChangeEvidence[] {
  const counts = new Map<string, { readonly change: ChangeEvidence; count: number }>();
  for (const change of changes) {
    const place = `${change.bar}:${change.beat}`;
    const entry = counts.get(place) ?? { change, count: 0 };
    entry.count++;
    counts.set(place, entry);
  }
  return [...counts.values()]
    .sort(
      (a, b) => b.count - a.count || a.change.bar - b.change.bar || a.change.beat - b.change.beat,
    )
    .map(({ change }) => change);
}

/** Bars of the form under the clean rate a raise needs, in the order of the form. */
function weakBars(takes: readonly TakeEvidence[]): readonly number[] {
  const [only, ...more] = takes;
  // Most takes of years are judged alone, and their bars are summed already.
  const bars = only !== undefined && more.length === 0 ? only.bars : sumsOf(takes);
  const weak: number[] = [];
  for (const { bar, slots, clean } of bars) {
    if (slots >= BAR_SLOTS && clean < RAISE_BAR_RATE * slots) weak.push(bar);
  }
  return weak.sort((a, b) => a - b);
}

function sumsOf(takes: readonly TakeEvidence[]): readonly BarEvidence[] {
  const sums = sumByBar(takes.flatMap(({ bars }) => bars));
  return [...sums].map(([bar, sum]) => ({ bar, ...sum }));
}
