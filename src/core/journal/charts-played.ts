/** What takes come to, chart by chart. */

import { LEVELS } from '../words.ts';
import type { ChartPlayed, JournalTake } from './model.ts';

const MINUTE_MS = 60_000;

/** Minutes played: the lengths of takes summed. */
export function minutesOf(takes: readonly JournalTake[]): number {
  return takes.reduce((sum, { endMs }) => sum + Math.max(0, endMs), 0) / MINUTE_MS;
}

/** Sums of what was graded: slots, and those of them that are clean. */
export function slotsOf(takes: readonly JournalTake[]): Pick<ChartPlayed, 'slots' | 'clean'> {
  return takes.reduce(
    (sum, take) => ({ slots: sum.slots + take.slots, clean: sum.clean + take.clean }),
    {
      slots: 0,
      clean: 0,
    },
  );
}

/** One entry a chart, in the order of the takes. */
export function chartsPlayed(takes: readonly JournalTake[]): readonly ChartPlayed[] {
  return [...Map.groupBy(takes, ({ chartId }) => chartId)].map(([chartId, own]): ChartPlayed => {
    const tempos = own.flatMap(({ tempoBpm }) => tempoBpm ?? []);
    const levels = new Set(own.map(({ level }) => level));
    return {
      chartId,
      // A chart may have been renamed: it goes by what it was called last.
      chartTitle: own.at(-1)?.chartTitle ?? '',
      takes: own.length,
      minutes: minutesOf(own),
      plans: [...new Set(own.map(({ plan }) => plan))],
      keys: [...new Set(own.map(({ key }) => key))],
      levels: LEVELS.filter((level) => levels.has(level)),
      tempos:
        tempos.length === 0
          ? null
          : {
              fromBpm: tempos.reduce((least, bpm) => Math.min(least, bpm)),
              toBpm: tempos.reduce((most, bpm) => Math.max(most, bpm)),
            },
      ...slotsOf(own),
    };
  });
}
