/** A session: what to play today, in order, with breaks. Plain data; every change of it is a function to a new one. */

import type { DueReason } from '../../words.ts';
import { type PracticeName, practiceId } from '../practice-name.ts';
import type { Obstacle } from '../readiness.ts';
import type { BarRange } from '../weak-places/index.ts';

/** What is to be played. */
export interface Play extends PracticeName {
  readonly chartTitle: string;
  readonly tempoBpm: number;
  /** Null: the whole form. */
  readonly bars: BarRange | null;
}

/** Why it is proposed, with the figures that say so. */
export type Why =
  /** `retrievability`: the chance that it is still there, 0 to 1; null when too little was played to tell. */
  | {
      readonly kind: 'due';
      readonly daysSince: number;
      readonly reason: DueReason;
      readonly retrievability: number | null;
    }
  /** `obstacles`: what little is missing at the tempo played last; empty when it may be raised. */
  | {
      readonly kind: 'nearRaise';
      readonly presentBpm: number;
      readonly obstacles: readonly Obstacle[];
    }
  | {
      readonly kind: 'weakPlace';
      readonly place: BarRange;
      readonly slots: number;
      readonly clean: number;
      readonly contextBpm: number;
    }
  /** `fromBpm`: the tempo that has held on the rung it follows from, or null. */
  | { readonly kind: 'newThing'; readonly fromBpm: number | null };

export type ItemKind = Why['kind'];

/** Something that could be played today. */
export interface Candidate {
  /** The same for the same kind, practice and bars, whatever the tempo. */
  readonly id: string;
  readonly play: Play;
  readonly why: Why;
}

export interface PlayItem extends Candidate {
  readonly kind: ItemKind;
  /** Whole minutes. */
  readonly minutes: number;
}

export interface BreakItem {
  readonly kind: 'break';
  readonly minutes: number;
}

export type SessionItem = PlayItem | BreakItem;

export interface Session {
  /** What all items, breaks included, sum to at most. */
  readonly minutes: number;
  /** What the played items sum to at most; null without a limit. */
  readonly playMinutes: number | null;
  readonly items: readonly SessionItem[];
  /** Ids of items that stay when the session is proposed anew, and are shortened last. */
  readonly lockedIds: readonly string[];
  readonly skippedIds: readonly string[];
  /** What could stand in for a skipped item, best first. */
  readonly spare: readonly Candidate[];
}

export function isPlayed(item: SessionItem): item is PlayItem {
  return item.kind !== 'break';
}

/** Names one practice, and the bars of it when it is not the whole form. */
export function playName(play: Play): string {
  const { bars } = play;
  return JSON.stringify([practiceId(play), bars === null ? null : [bars.from, bars.to]]);
}

export function candidate(play: Play, why: Why): Candidate {
  return { id: `${why.kind} ${playName(play)}`, play, why };
}
