/** What a player is after on each chart: its goal, and the order of its keys. */

import { createHash } from 'node:crypto';
import { z } from 'zod';
import type { Settings } from '../../../shared/bridge/index.ts';
import { parseChart } from '../../core/chart/index.ts';
import { KEY_CYCLES, keyCycle } from '../../core/plan/index.ts';
import type { SessionChart } from '../../core/progress/index.ts';
import { formatKey, type Key, parseKey } from '../../core/theory/index.ts';
import type { ChartOutlines } from '../store/index.ts';
import { memo } from './memo.ts';
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
  /** Reads those, one after another, and keeps what the next start need not read again. */
  readAhead(practices: PracticesOf, rest: Rest): Promise<void>;
}

export interface GoalParts {
  /** Every chart there is, the player's own first. */
  charts(): readonly StoredText[];
  settings(): Settings;
  readonly outlines: ChartOutlines;
  /** Of the program. */
  readonly version: string;
}

export interface StoredText {
  readonly chartId: string;
  readonly title: string;
  readonly text: string;
}

/** What of a chart the ladder asks for. */
interface Outline {
  readonly plans: readonly string[];
  readonly key: Key;
  readonly tempoBpm: number | null;
}

const outlineSchema = z.tuple([z.array(z.string()), z.string(), z.number().nullable()]);

/** Reads each chart text once. */
export function createGoalBook({ charts, settings, outlines, version }: GoalParts): GoalBook {
  const read = new Map<string, { readonly text: string; readonly outline: Outline | null }>();
  const kept = memo(() => outlines.all());

  /** Another program may read the same text otherwise. */
  function sumOf(text: string): string {
    return createHash('sha256')
      .update(JSON.stringify([version, text]))
      .digest('base64');
  }

  function outlineOf({ chartId, text }: StoredText): Outline | null {
    const known = read.get(chartId);
    if (known?.text === text) return known.outline;
    const outline = keptOutline(kept().get(sumOf(text))) ?? readOutline(text);
    read.set(chartId, { text, outline });
    return outline;
  }

  /** Those that could not be read are read again: there are few. */
  function keep(): void {
    const all = new Map(
      [...read.values()].flatMap(({ text, outline }) =>
        outline === null ? [] : [[sumOf(text), outlineText(outline)] as const],
      ),
    );
    if ([...all.keys()].every((sum) => kept().has(sum))) return;
    try {
      outlines.keep(all);
    } catch {
      // A disk that is full keeps nobody from practising: the texts are read again as long as it is.
    }
  }

  function goalOf(stored: StoredText, chosen: Settings): SessionChart | null {
    const outline = outlineOf(stored);
    if (outline === null) return null;
    const choice = choiceSchema.safeParse(chosen[`practice ${stored.chartId}`]);
    const { goalBpm, keyCycle: cycle } = choice.success
      ? choice.data
      : { goalBpm: null, keyCycle: null };
    return {
      chartId: stored.chartId,
      chartTitle: stored.title,
      plans: outline.plans,
      keys: keyCycle(outline.key, cycle ?? 'fourths').map(formatKey),
      // Without a goal of the player's the tempo the chart itself names is it. Own rule.
      goalBpm: goalBpm ?? outline.tempoBpm,
    };
  }

  function textsOf(practices: PracticesOf): readonly StoredText[] {
    const played = new Set([...practices.values()].map(({ name }) => name.chartId));
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
    async readAhead(practices, rest) {
      for (const chart of textsOf(practices)) {
        await rest();
        outlineOf(chart);
      }
      keep();
    },
  };
}

function readOutline(text: string): Outline | null {
  const parsed = parseChart(text);
  if (!parsed.ok) return null;
  const { plans, key, tempoBpm } = parsed.value;
  return { plans: plans.map(({ name }) => name), key, tempoBpm };
}

function outlineText({ plans, key, tempoBpm }: Outline): string {
  return JSON.stringify([plans, formatKey(key), tempoBpm]);
}

/** Null for what is damaged, or not there. */
function keptOutline(text: string | undefined): Outline | null {
  if (text === undefined) return null;
  try {
    const [plans, keyText, tempoBpm] = outlineSchema.parse(JSON.parse(text));
    const key = parseKey(keyText);
    return key && { plans, key, tempoBpm };
  } catch {
    return null;
  }
}
