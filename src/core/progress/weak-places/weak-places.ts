/** Weak places with what speaks for them: how much was played there, how sure the rate is, and what went wrong. */

import { FAULTS, type Fault } from '../../words.ts';
import type { ChangeEvidence } from '../evidence.ts';
import type { PlayedTake } from '../history.ts';
import { isSurelyWeak, rankPlaces, type SurePlace, type WeakPlace } from './rank.ts';

/** One thing that went wrong at a place. */
export type PlaceCause =
  | { readonly kind: 'fault'; readonly fault: Fault; readonly count: number }
  | { readonly kind: 'change'; readonly change: ChangeEvidence; readonly count: number };

export interface RankedPlace extends SurePlace {
  /** How many takes played there. */
  readonly takes: number;
  /** See `isSurelyWeak`. */
  readonly standing: 'surely' | 'perhaps';
  /** The clean rate of all other bars; null when there are none. */
  readonly elsewhereRate: number | null;
  /** Most frequent first. Faults are told only of takes that kept their chords. */
  readonly causes: readonly PlaceCause[];
}

/** The weak places of a form, surest first. In: takes of one chart, plan, key and level, newest first. */
export function weakPlaces(takes: readonly PlayedTake[]): readonly RankedPlace[] {
  const bars = takes.flatMap(({ evidence }) => evidence.bars);
  const slots = bars.reduce((sum, bar) => sum + bar.slots, 0);
  const clean = bars.reduce((sum, bar) => sum + bar.clean, 0);
  return rankPlaces(bars).map((place): RankedPlace => {
    const elsewhere = slots - place.slots;
    return {
      ...place,
      takes: takes.filter(({ evidence }) =>
        evidence.bars.some((bar) => bar.slots > 0 && isAt(place, bar)),
      ).length,
      standing: isSurelyWeak(place) ? 'surely' : 'perhaps',
      elsewhereRate: elsewhere === 0 ? null : (clean - place.clean) / elsewhere,
      causes: causesAt(place, takes),
    };
  });
}

function isAt({ from, to }: WeakPlace, { bar }: { readonly bar: number }): boolean {
  return bar >= from && bar <= to;
}

function causesAt(place: WeakPlace, takes: readonly PlayedTake[]): readonly PlaceCause[] {
  const chords = takes
    .flatMap(({ evidence }) => evidence.chords ?? [])
    .filter((chord) => isAt(place, chord));
  const faults = FAULTS.map((fault): PlaceCause => {
    const count = chords.reduce((sum, chord) => sum + (chord.faults[fault] ?? 0), 0);
    return { kind: 'fault', fault, count };
  });
  const late = takes
    .flatMap(({ evidence }) => evidence.lateChanges)
    .filter((change) => isAt(place, change));
  const changes = [...Map.groupBy(late, ({ bar, beat }) => `${bar}:${beat}`).values()].flatMap(
    ([change, ...more]): readonly PlaceCause[] =>
      change === undefined ? [] : [{ kind: 'change', change, count: more.length + 1 }],
  );
  return [...faults, ...changes]
    .filter(({ count }) => count > 0)
    .sort((one, other) => other.count - one.count);
}
