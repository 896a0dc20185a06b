/**
 * The ladder of a chart: in steps, then thirds let in, then any interval, then other scales and substitute chords, at last free
 * rhythm; then the same in the next key. Source of the order: `grading.md`, `rung`. Every other plan has a rung of its own, first
 * all of them in eighths, then all of them free; a chart without other plans is played free as it is written. Nothing is
 * locked: the ladder says what comes next, not what may be played.
 */

import { parseKey } from '../../theory/index.ts';
import { type Level, PLAIN } from '../../words.ts';
import type { Practice } from '../history.ts';

export interface LadderChart {
  readonly chartId: string;
  /** Names of its plans, with or without `plain`. */
  readonly plans: readonly string[];
  /** Keys in the order they are practised, as text: `Bb`, `F#m`. */
  readonly keys: readonly string[];
  /** The tempo to reach, or null: then no rung is ever done. */
  readonly goalBpm: number | null;
}

export interface RungPlace {
  readonly key: string;
  readonly level: Level;
  readonly plan: string;
}

export interface Rung extends RungPlace {
  /** `done`: the goal has held. */
  readonly state: 'done' | 'goingOn' | 'notBegun';
  /** The fastest tempo that has ever held, or null. */
  readonly heldBpm: number | null;
  /** The fastest tempo that holds now, or null. */
  readonly holdsBpm: number | null;
  readonly goalBpm: number | null;
  /** Ms since 1970, or null. */
  readonly lastPlayedMs: number | null;
}

export interface Ladder {
  readonly rungs: readonly Rung[];
  /** The first rung that is not done, or null. */
  readonly next: Rung | null;
}

/** Where a player stands on the ladder of a chart. Practices of other charts are passed over. */
export function ladderOf(chart: LadderChart, practices: readonly Practice[]): Ladder {
  const own = Map.groupBy(
    practices.filter(({ chartId }) => chartId === chart.chartId),
    ({ level, plan, key }) => rungId(level, plan, soundOf(key)),
  );
  const rungs = chart.keys.flatMap((key) => {
    const sound = soundOf(key);
    return rungsOfKey(chart.plans).map(({ level, plan }) =>
      judgeRung({ key, level, plan }, chart, own.get(rungId(level, plan, sound)) ?? []),
    );
  });
  return { rungs, next: rungs.find(({ state }) => state !== 'done') ?? null };
}

function rungId(level: Level, plan: string, sound: string): string {
  return JSON.stringify([level, plan, sound]);
}

function rungsOfKey(plans: readonly string[]): readonly Omit<RungPlace, 'key'>[] {
  const others = plans.filter((plan) => plan !== PLAIN);
  const freely = others.length === 0 ? [PLAIN] : others;
  return [
    { level: 'steps', plan: PLAIN },
    { level: 'thirds', plan: PLAIN },
    { level: 'leaps', plan: PLAIN },
    ...others.map((plan) => ({ level: 'leaps', plan }) as const),
    ...freely.map((plan) => ({ level: 'free', plan }) as const),
  ];
}

function judgeRung(place: RungPlace, { goalBpm }: LadderChart, own: readonly Practice[]): Rung {
  const heldBpm = most(own.map((practice) => practice.heldBpm));
  const isDone = goalBpm !== null && heldBpm !== null && heldBpm >= goalBpm;
  return {
    ...place,
    state: isDone ? 'done' : own.length > 0 ? 'goingOn' : 'notBegun',
    heldBpm,
    holdsBpm: most(own.map(({ holdsBpm }) => holdsBpm)),
    goalBpm,
    lastPlayedMs: most(own.map(({ last }) => last.playedAtMs)),
  };
}

function most(values: readonly (number | null)[]): number | null {
  const known = values.filter((value) => value !== null);
  return known.length === 0 ? null : Math.max(...known);
}

const KEYS = 12;

/** Whether two keys sound the same, whatever they are called. */
export function isSameKey(one: string, other: string): boolean {
  return one === other || soundOf(one) === soundOf(other);
}

/** The same text for keys that sound the same; what is no key is only like itself. */
function soundOf(key: string): string {
  const parsed = parseKey(key);
  if (parsed === null) return `no key ${key}`;
  const { mode, tonic } = parsed;
  return `${mode} ${((tonic % KEYS) + KEYS) % KEYS}`;
}
