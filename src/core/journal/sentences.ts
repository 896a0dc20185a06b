/** The journal in words. */

import { counted, percent } from '../findings/index.ts';
import type { ChartPlayed } from './model.ts';
import type { PlayedInSpan } from './played-in-span.ts';

/** `25 minutes`, `1 h 05 min`, `under a minute`. */
export function describeMinutes(minutes: number): string {
  const whole = Math.round(minutes);
  if (minutes > 0 && whole === 0) return 'under a minute';
  if (whole < 60) return counted(whole, 'minute');
  return `${Math.floor(whole / 60)} h ${String(whole % 60).padStart(2, '0')} min`;
}

/** `66`, `60–72`; empty without a steady tempo. */
export function describeTempos({ tempos }: Pick<ChartPlayed, 'tempos'>): string {
  if (tempos === null) return '';
  const from = Math.round(tempos.fromBpm);
  const to = Math.round(tempos.toBpm);
  return from === to ? `${from}` : `${from}–${to}`;
}

/** What was played of a practice in a span of days, in one sentence. */
export function describePlayed(played: PlayedInSpan): string {
  switch (played.kind) {
    case 'whole': {
      const [first, last] = [bpm(played.firstBpm), bpm(played.lastBpm)];
      const tempos = first === last ? `at ${first}` : `at ${first} first, at ${last} last`;
      return `Played ${tempos}: ${percent(played.clean / played.slots)} of ${counted(played.slots, 'slot')} clean.`;
    }
    case 'parts': {
      const bars = played.bars.map(({ from, to }) => (from === to ? `${from}` : `${from}–${to}`));
      return `Some bars alone: ${bars.join(', ')}.`;
    }
    case 'ungraded':
      return 'Played without a steady tempo, or without a line that could be graded.';
  }
}

function bpm(tempoBpm: number): string {
  return `${Math.round(tempoBpm)}`;
}
