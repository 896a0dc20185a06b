/** The journal in words. */

import { counted, percent } from '../findings/index.ts';
import type { ChartPlayed } from './model.ts';
import type { Standing } from './standing.ts';

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

/** One sentence for a teacher. */
export function describeStanding(standing: Standing): string {
  switch (standing.kind) {
    case 'rose':
      return `Rose from ${bpm(standing.fromBpm)} to ${bpm(standing.toBpm)}, where it stands.`;
    case 'fell':
      return `Stood at ${bpm(standing.fromBpm)} at first, stands at ${bpm(standing.toBpm)} now.`;
    case 'stands':
      return `Stands at ${bpm(standing.tempoBpm)}.`;
    case 'notYet':
      return `Does not stand at any tempo yet: ${percent(standing.clean / standing.slots)} of ${counted(standing.slots, 'slot')} clean at ${bpm(standing.tempoBpm)}, the tempo played last.`;
    case 'parts': {
      const bars = standing.bars.map(({ from, to }) => (from === to ? `${from}` : `${from}–${to}`));
      return `Some bars alone: ${bars.join(', ')}.`;
    }
    case 'ungraded':
      return 'Played without a steady tempo, or without a line that could be graded.';
  }
}

/** What `stands` means, for the foot of the page. */
export const STANDING_WORDS =
  'A tempo stands when at least 64 slots were played at it over the whole form and nine in ten of them were clean.';

function bpm(tempoBpm: number): string {
  return `${Math.round(tempoBpm)}`;
}
