/** What a player is after on each chart: its goal, and the order of its keys. */

import { z } from 'zod';
import type { Settings } from '../../../shared/bridge/index.ts';
import { type Chart, parseChart } from '../../core/chart/index.ts';
import { KEY_CYCLES, keyCycle } from '../../core/plan/index.ts';
import type { SessionChart } from '../../core/progress/index.ts';
import { formatKey } from '../../core/theory/index.ts';

/** The part of a practice choice that is a goal; the renderer owns the rest of it. */
const choiceSchema = z.object({
  goalBpm: z.number().nullable().catch(null),
  keyCycle: z.enum(KEY_CYCLES).nullable().catch(null),
});

export interface GoalBook {
  /** The chart as the ladder wants it; null for one that cannot be read. */
  goalOf(chart: StoredText, settings: Settings): SessionChart | null;
}

export interface StoredText {
  readonly chartId: string;
  readonly title: string;
  readonly text: string;
}

/** Reads each chart text once. */
export function createGoalBook(): GoalBook {
  const read = new Map<string, { readonly text: string; readonly chart: Chart | null }>();

  function chartOf({ chartId, text }: StoredText): Chart | null {
    const known = read.get(chartId);
    if (known?.text === text) return known.chart;
    const parsed = parseChart(text);
    const chart = parsed.ok ? parsed.value : null;
    read.set(chartId, { text, chart });
    return chart;
  }

  return {
    goalOf(stored, settings) {
      const chart = chartOf(stored);
      if (chart === null) return null;
      const choice = choiceSchema.safeParse(settings[`practice ${stored.chartId}`]);
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
    },
  };
}
