/**
 * One rating for each day a practice was played, from the grades of its takes. Own rule:
 *
 * | rating | the day's takes at one tempo |
 * |---|---|
 * | `easy` | meet every condition of a raise on their own |
 * | `good` | do not, with nine slots in ten clean or more (the rate a raise needs) |
 * | `hard` | less clean than that |
 * | `again` | call for an ease |
 *
 * The best rating of a day's tempos stands. Tempos under one step of ease below the fastest that came out `good` or
 * better on an earlier day show little of what is still there: where nothing else was played, the day is `hard` at best. A tempo
 * with fewer slots than an ease is judged on says too little, and a day without any other is left out.
 */

import type { PlayedTake } from '../history.ts';
import { EASE_SLOTS, easedTempoBpm, judgeInShort, RAISE_CLEAN_RATE } from '../readiness.ts';
import { DAY_RATINGS, type DayRating, type RatedDay } from './memory.ts';

/** What one day's takes at one tempo came to by themselves. */
export interface RatedTempo {
  readonly tempoBpm: number;
  readonly rating: DayRating;
}

export interface DayTempoRating extends RatedTempo {
  readonly day: number;
}

/** In: the tempos of all days, oldest first. Out: the days, oldest first. */
export function rateDays(tempos: readonly DayTempoRating[]): readonly RatedDay[] {
  let heldBpm: number | null = null;
  return [...Map.groupBy(tempos, ({ day }) => day)].flatMap(([day, own]) => {
    const rating = bestOf(own, heldBpm);
    for (const tempo of own) {
      if (rank(tempo.rating) >= rank('good')) heldBpm = Math.max(heldBpm ?? 0, tempo.tempoBpm);
    }
    return rating === null ? [] : [{ day, rating }];
  });
}

/** The tempos of one day whose takes, newest first, say enough to be rated. */
export function rateTempos(played: readonly PlayedTake[]): readonly RatedTempo[] {
  const rated: RatedTempo[] = [];
  for (const [tempoBpm, takes] of byTempo(played)) {
    const rating = rateTempo(takes);
    if (rating !== null) rated.push({ tempoBpm, rating });
  }
  return rated;
}

/** The takes of a day by their tempo: mostly it is one. */
function byTempo(
  played: readonly PlayedTake[],
): Iterable<readonly [number, readonly PlayedTake[]]> {
  const [first] = played;
  if (first !== undefined && played.every(({ tempoBpm }) => tempoBpm === first.tempoBpm)) {
    return [[first.tempoBpm, played]];
  }
  return Map.groupBy(played, ({ tempoBpm }) => tempoBpm);
}

function rateTempo(takes: readonly PlayedTake[]): DayRating | null {
  const evidence = takes.map((take) => take.evidence);
  const lastMs = evidence[0]?.playedAtMs ?? 0;
  const { verdict, slots, clean } = judgeInShort(evidence, lastMs);
  if (slots < EASE_SLOTS) return null;
  if (verdict === 'raise') return 'easy';
  if (verdict === 'ease') return 'again';
  return clean >= RAISE_CLEAN_RATE * slots ? 'good' : 'hard';
}

function bestOf(tempos: readonly RatedTempo[], heldBpm: number | null): DayRating | null {
  const nearBpm = heldBpm === null ? 0 : easedTempoBpm(heldBpm);
  const near = tempos.filter(({ tempoBpm }) => tempoBpm >= nearBpm);
  const most = near.length > 0 ? rank('easy') : rank('hard');
  const ranks = (near.length > 0 ? near : tempos).map(({ rating }) => rank(rating));
  return DAY_RATINGS[Math.min(most, Math.max(...ranks))] ?? null;
}

function rank(rating: DayRating): number {
  return DAY_RATINGS.indexOf(rating);
}
