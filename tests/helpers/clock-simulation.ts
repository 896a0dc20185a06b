/**
 * Two clocks that are read together, badly: what a sound clock makes of it, beside the truth. The time heard drifts against
 * the page's by up to 200 ppm either way; each reading is wrong by a uniform jitter, and one in a hundred was taken late, by
 * 20 ms in the mean. A simulation, not a measurement.
 */

import { seededChance } from '../../scripts/demo/random.ts';
import { createSoundClock } from '../../src/renderer/clock/index.ts';

export interface Trouble {
  /** The page is blocked for 300 ms, and the first reading after it joins a time from before with one from after. */
  readonly tornAtMs: number | null;
  /** From here on sound is heard later, or earlier, by so much. */
  readonly shift: { readonly atMs: number; readonly byMs: number } | null;
  /** Sound stands still for so long. */
  readonly stall: { readonly atMs: number; readonly forMs: number } | null;
}

const NO_TROUBLE: Trouble = { tornAtMs: null, shift: null, stall: null };

export interface SimulatedRun {
  readonly seed: number;
  readonly jitterMs: number;
  readonly endMs: number;
  readonly everyMs: number;
  readonly trouble: Trouble;
}

export interface Observed {
  readonly pageMs: number;
  /** How far what the clock says lies from what is heard, after this reading. */
  readonly errorMs: number;
  readonly isDoubted: boolean;
  readonly hasJumped: boolean;
}

const TORN_FOR_MS = 300;
const START_MS = 1000;
const DRIFT = 200e-6;

/** Runs a clock and gives what was seen of it at each reading. */
export function* simulateClock(run: SimulatedRun): Generator<Observed> {
  const { jitterMs, endMs, everyMs, trouble } = run;
  const { tornAtMs, shift, stall } = trouble;
  const chance = seededChance(run.seed);
  const drift = (chance.next() * 2 - 1) * DRIFT;
  const clock = createSoundClock();
  const heardAt = (pageMs: number): number => {
    const shiftedMs = shift !== null && pageMs >= shift.atMs ? shift.byMs : 0;
    const stoodMs = stall === null ? 0 : Math.min(Math.max(0, pageMs - stall.atMs), stall.forMs);
    return 123_456 + pageMs * (1 + drift) - shiftedMs - stoodMs;
  };
  for (let pageMs = START_MS; pageMs < endMs; pageMs += everyMs) {
    const isTorn = tornAtMs !== null && pageMs > tornAtMs && pageMs <= tornAtMs + TORN_FOR_MS;
    const isBlocked = isTorn && pageMs + everyMs <= tornAtMs + TORN_FOR_MS;
    if (isBlocked) continue;
    const lateMs = chance.next() < 0.01 ? -20 * Math.log(1 - chance.next()) : 0;
    const wrongMs = (chance.next() * 2 - 1) * jitterMs - lateMs;
    const heardMs = isTorn ? heardAt(tornAtMs) : heardAt(pageMs) + wrongMs;
    const news = clock.read({ pageMs, heardMs }, pageMs);
    yield {
      pageMs,
      errorMs: Math.abs(clock.heardMs(pageMs + 5) - heardAt(pageMs + 5)),
      isDoubted: clock.isDoubted(),
      hasJumped: news?.kind === 'jumped',
    };
  }
}

const SHIFT_AT_MS = 50_000;
const SHIFT_MS = 40;
const STALL_AT_MS = 80_000;
const STALL_MS = 300;
const TORN_AT_MS = 30_000;
const END_MS = 100_000;

/** What a run with one of each trouble shows. Not told or doubted at all: Infinity. */
export interface TroubledRun {
  /** Errors within the first ten seconds, and from then to the first trouble. */
  readonly firstMs: readonly number[];
  readonly settledMs: readonly number[];
  readonly worstAfterTornMs: number;
  /** From the shift of 40 ms to its doubt and its jump; from a stall's begin to its doubt, from its end to its jump. */
  readonly shiftDoubtedMs: number;
  readonly shiftToldMs: number;
  readonly stallDoubtedMs: number;
  readonly stallToldMs: number;
  /** The worst error from a second after the stall on. */
  readonly worstAfterStallMs: number;
}

/** One run with a torn reading, a shift for good and a stall. `phaseMs`: how long after a reading the troubles begin. */
export function troubledRun(seed: number, jitterMs: number, phaseMs: number): TroubledRun {
  const shiftAtMs = SHIFT_AT_MS + phaseMs;
  const stallAtMs = STALL_AT_MS + phaseMs;
  const trouble: Trouble = {
    tornAtMs: TORN_AT_MS,
    shift: { atMs: shiftAtMs, byMs: SHIFT_MS },
    stall: { atMs: stallAtMs, forMs: STALL_MS },
  };
  const seen = [...simulateClock({ seed, jitterMs, endMs: END_MS, everyMs: 40, trouble })];
  const errors = (fromMs: number, toMs: number): readonly number[] =>
    seen.flatMap(({ pageMs, errorMs }) => (pageMs >= fromMs && pageMs < toMs ? [errorMs] : []));
  const after = (fromMs: number, is: (one: Observed) => boolean): number =>
    (seen.find((one) => one.pageMs >= fromMs && is(one))?.pageMs ?? Number.POSITIVE_INFINITY) -
    fromMs;
  return {
    firstMs: errors(0, 11_000),
    settledMs: errors(11_000, TORN_AT_MS),
    worstAfterTornMs: Math.max(...errors(TORN_AT_MS, TORN_AT_MS + 5000)),
    shiftDoubtedMs: after(shiftAtMs, ({ isDoubted }) => isDoubted),
    shiftToldMs: after(shiftAtMs, ({ hasJumped }) => hasJumped),
    stallDoubtedMs: after(stallAtMs, ({ isDoubted }) => isDoubted),
    stallToldMs: after(stallAtMs + STALL_MS, ({ hasJumped }) => hasJumped),
    worstAfterStallMs: Math.max(...errors(stallAtMs + STALL_MS + 1000, END_MS)),
  };
}

/** How often a clock jumps that nothing has troubled. */
export function falseJumps(seed: number, jitterMs: number, minutes: number): number {
  const endMs = minutes * 60_000;
  const run = { seed, jitterMs, endMs, everyMs: 40, trouble: NO_TROUBLE };
  let jumps = 0;
  for (const { hasJumped } of simulateClock(run)) if (hasJumped) jumps++;
  return jumps;
}
