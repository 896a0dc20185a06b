/** What a player is after on each chart: its goal, and the order of its keys. */

import { z } from 'zod';
import type { Settings } from '../../../shared/bridge/index.ts';
import { KEY_CYCLES, keyCycle } from '../../core/plan/index.ts';
import type { KeptPractice, SessionChart } from '../../core/progress/index.ts';
import { formatKey } from '../../core/theory/index.ts';
import type { ChartOutline, ChartOutlines } from '../store/index.ts';

/** The part of a practice choice that is a goal; the renderer owns the rest of it. */
const choiceSchema = z.object({
  goalBpm: z.number().nullable().catch(null),
  keyCycle: z.enum(KEY_CYCLES).nullable().catch(null),
});

/** Charts that were never played and may be proposed as something new. */
const MOST_NEW_CHARTS = 20;

export interface GoalBook {
  /** What the ladder wants of charts, by their ids; nothing of one that cannot be read, or is gone. */
  of(chartIds: readonly string[]): ReadonlyMap<string, SessionChart>;
  /** The same of the charts that were played, and of some that were not; without those that cannot be read. */
  ofSession(practices: readonly KeptPractice[]): readonly SessionChart[];
}

export interface GoalParts {
  /** Every chart there is, the player's own first. */
  charts(): readonly StoredText[];
  settings(): Settings;
  readonly outlinesOf: ChartOutlines;
}

export interface StoredText {
  readonly chartId: string;
  readonly title: string;
  readonly text: string;
}

export function createGoalBook({ charts, settings, outlinesOf }: GoalParts): GoalBook {
  function goalsOf(wanted: readonly StoredText[]): readonly SessionChart[] {
    const outlines = outlinesOf(wanted);
    const chosen = settings();
    return wanted.flatMap(({ chartId, title }) => {
      const outline = outlines.get(chartId);
      return outline === undefined ? [] : [goalOf(chartId, title, outline, chosen)];
    });
  }

  return {
    of(chartIds) {
      const wanted = new Set(chartIds);
      const goals = goalsOf(charts().filter(({ chartId }) => wanted.has(chartId)));
      return new Map(goals.map((chart) => [chart.chartId, chart]));
    },
    ofSession(practices) {
      const played = new Set(practices.map(({ name }) => name.chartId));
      const all = charts();
      const fresh = all.filter(({ chartId }) => !played.has(chartId)).slice(0, MOST_NEW_CHARTS);
      return goalsOf([...all.filter(({ chartId }) => played.has(chartId)), ...fresh]);
    },
  };
}

function goalOf(
  chartId: string,
  chartTitle: string,
  { plans, key, tempoBpm }: ChartOutline,
  chosen: Settings,
): SessionChart {
  const choice = choiceSchema.safeParse(chosen[`practice ${chartId}`]).data;
  return {
    ...{ chartId, chartTitle, plans },
    keys: keyCycle(key, choice?.keyCycle ?? 'fourths').map(formatKey),
    // Without a goal of the player's the tempo the chart itself names is it. Own rule.
    goalBpm: choice?.goalBpm ?? tempoBpm,
  };
}
