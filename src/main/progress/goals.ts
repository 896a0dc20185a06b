/** What a player is after on each chart: its goal, and the order of its keys. */

import { z } from 'zod';
import type { Settings } from '../../../shared/bridge/index.ts';
import { type Chart, parseChart } from '../../core/chart/index.ts';
import { KEY_CYCLES, keyCycle } from '../../core/plan/index.ts';
import type { SessionChart } from '../../core/progress/index.ts';
import { formatKey } from '../../core/theory/index.ts';
import type { PracticesOf } from './practices.ts';
import type { Rest } from './rest.ts';

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
  ofSession(practices: PracticesOf): readonly SessionChart[];
  /** Reads those, one after another. */
  readAhead(practices: PracticesOf, rest: Rest): Promise<void>;
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

/** Reads each chart text once. */
export function createGoalBook(parts: GoalParts): GoalBook {
  const read = new Map<string, { readonly text: string; readonly chart: Chart | null }>();

  function chartOf({ chartId, text }: StoredText): Chart | null {
    const known = read.get(chartId);
    if (known?.text === text) return known.chart;
    const parsed = parseChart(text);
    const chart = parsed.ok ? parsed.value : null;
    read.set(chartId, { text, chart });
    return chart;
  }

  function goalOf(stored: StoredText, settings: Settings): SessionChart | null {
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
  }

  function textsOf(practices: PracticesOf): readonly StoredText[] {
    const played = new Set([...practices.values()].map(({ name }) => name.chartId));
    const all = parts.charts();
    const fresh = all.filter(({ chartId }) => !played.has(chartId)).slice(0, MOST_NEW_CHARTS);
    return [...all.filter(({ chartId }) => played.has(chartId)), ...fresh];
  }

  return {
    goals() {
      const settings = parts.settings();
      const charts = new Map(parts.charts().map((chart) => [chart.chartId, chart]));
      return (chartId) => {
        const chart = charts.get(chartId);
        return chart === undefined ? null : goalOf(chart, settings);
      };
    },
    ofSession(practices) {
      const settings = parts.settings();
      return textsOf(practices).flatMap((chart) => goalOf(chart, settings) ?? []);
    },
    async readAhead(practices, rest) {
      for (const chart of textsOf(practices)) {
        await rest();
        chartOf(chart);
      }
    },
  };
}
