/** What a player is after on each chart: its goal, and the order of its keys. */

import { z } from 'zod';
import type { Settings } from '../../../shared/bridge/index.ts';
import { parseChart } from '../../core/chart/index.ts';
import { KEY_CYCLES, keyCycle } from '../../core/plan/index.ts';
import type { KeptPractice, SessionChart } from '../../core/progress/index.ts';
import { formatKey } from '../../core/theory/index.ts';

/** The part of a practice choice that is a goal; the renderer owns the rest of it. */
const choiceSchema = z.object({
  goalBpm: z.number().nullable().catch(null),
  keyCycle: z.enum(KEY_CYCLES).nullable().catch(null),
});

/** Charts that were never played and may be proposed as something new. */
const MOST_NEW_CHARTS = 20;

export interface GoalBook {
  /** Tells of each chart there is now what the ladder wants; null for one that cannot be read. */
  goals(): (chartId: string) => SessionChart | null;
  /** The same of the charts that were played, and of some that were not; without those that cannot be read. */
  ofSession(practices: readonly KeptPractice[]): readonly SessionChart[];
}

export interface GoalParts {
  /** Every chart there is, the player's own first. */
  charts(): readonly StoredText[];
  settings(): Settings;
}

export interface StoredText {
  readonly chartId: string;
  readonly title: string;
  readonly text: string;
}

export function createGoalBook({ charts, settings }: GoalParts): GoalBook {
  function goalOf(stored: StoredText, chosen: Settings): SessionChart | null {
    const parsed = parseChart(stored.text);
    if (!parsed.ok) return null;
    const chart = parsed.value;
    const choice = choiceSchema.safeParse(chosen[`practice ${stored.chartId}`]);
    const { goalBpm, keyCycle: cycle } = choice.success
      ? choice.data
      : { goalBpm: null, keyCycle: null };
    return {
      chartId: stored.chartId,
      chartTitle: stored.title,
      plans: chart.plans.map(({ name }) => name),
      keys: keyCycle(chart.key, cycle ?? 'fourths').map(formatKey),
      // Without a goal of the player's the tempo the chart itself names is it. Own rule.
      goalBpm: goalBpm ?? chart.tempoBpm,
    };
  }

  function textsOf(practices: readonly KeptPractice[]): readonly StoredText[] {
    const played = new Set(practices.map(({ name }) => name.chartId));
    const all = charts();
    const fresh = all.filter(({ chartId }) => !played.has(chartId)).slice(0, MOST_NEW_CHARTS);
    return [...all.filter(({ chartId }) => played.has(chartId)), ...fresh];
  }

  return {
    goals() {
      const chosen = settings();
      const all = new Map(charts().map((chart) => [chart.chartId, chart]));
      return (chartId) => {
        const chart = all.get(chartId);
        return chart === undefined ? null : goalOf(chart, chosen);
      };
    },
    ofSession(practices) {
      const chosen = settings();
      return textsOf(practices).flatMap((chart) => goalOf(chart, chosen) ?? []);
    },
  };
}
