/** From the takes of the library to what the progress screen shows. Pure. */

import type { TakeRow } from '../../../../shared/bridge/index.ts';
import type { PlayedTake, Practice } from '../../../core/progress/index.ts';

/** A practice not touched for this long has gone stale. Own choice. */
export const STALE_DAYS = 14;

/** Whole-form takes at a steady tempo whose evidence is kept; drills of some bars say nothing about the form. */
export function playedTakes(rows: readonly TakeRow[]): readonly PlayedTake[] {
  return rows.flatMap(({ takeId, startedAtMs, figures, state, setUp }): readonly PlayedTake[] => {
    const { tempo, level } = setUp.grade;
    const evidence = figures?.evidence ?? null;
    const isWhole = state === 'finished' && setUp.bars === null && tempo.kind === 'steady';
    if (!isWhole || figures === null || evidence === null || figures.slots === 0) return [];
    const { chartId, chartTitle, plan, key } = setUp;
    const { slots, clean, changesCounted, changesOnTime } = figures;
    return [
      {
        ...{ takeId, chartId, chartTitle, plan, key, level, tempoBpm: tempo.tempoBpm },
        evidence: {
          ...{ playedAtMs: startedAtMs, slots, clean, changesCounted, changesOnTime },
          ...evidence,
        },
      },
    ];
  });
}

export interface PlotDot {
  /** Shares of the plot: x from the first day to the last, y from the top. */
  readonly x: number;
  readonly y: number;
  readonly takeId: string;
  /** Nine slots in ten clean, or more. */
  readonly isClean: boolean;
  readonly words: string;
}

export interface TempoPlotModel {
  readonly dots: readonly PlotDot[];
  readonly goalY: number | null;
  readonly lowestBpm: number;
  readonly highestBpm: number;
}

const CLEAN_SHARE = 0.9;
const MARGIN_BPM = 4;
const DAY = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium' });

/** Lays the takes of a practice out over days and tempos. */
export function tempoPlot({ takes }: Practice, goalBpm: number | null): TempoPlotModel {
  const tempos = takes.map(({ tempoBpm }) => tempoBpm);
  const lowestBpm = Math.min(...tempos) - MARGIN_BPM;
  const highestBpm = Math.max(...tempos, goalBpm ?? 0) + MARGIN_BPM;
  const times = takes.map(({ evidence }) => evidence.playedAtMs);
  const firstMs = Math.min(...times);
  const spanMs = Math.max(...times) - firstMs;
  const yOf = (bpm: number): number => (highestBpm - bpm) / (highestBpm - lowestBpm);
  const dots = takes.map(({ takeId, tempoBpm, evidence }) => ({
    x: spanMs === 0 ? 0.5 : (evidence.playedAtMs - firstMs) / spanMs,
    y: yOf(tempoBpm),
    takeId,
    isClean: evidence.clean >= CLEAN_SHARE * evidence.slots,
    words: `${DAY.format(evidence.playedAtMs)}: ${evidence.clean} of ${evidence.slots} clean at ${tempoBpm}`,
  }));
  return { dots, goalY: goalBpm === null ? null : yOf(goalBpm), lowestBpm, highestBpm };
}
