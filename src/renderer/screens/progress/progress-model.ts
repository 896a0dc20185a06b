/** The takes of a practice laid out over days and tempos. Pure. */

import type { PracticeDetail } from '../../../../shared/bridge/index.ts';

/** A practice not touched for this long has gone stale. Own choice. */
export const STALE_DAYS = 14;

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
export function tempoPlot(takes: PracticeDetail['takes'], goalBpm: number | null): TempoPlotModel {
  const tempos = takes.map(({ tempoBpm }) => tempoBpm);
  const lowestBpm = Math.min(...tempos) - MARGIN_BPM;
  const highestBpm = Math.max(...tempos, goalBpm ?? 0) + MARGIN_BPM;
  const times = takes.map(({ playedAtMs }) => playedAtMs);
  const firstMs = Math.min(...times);
  const spanMs = Math.max(...times) - firstMs;
  const yOf = (bpm: number): number => (highestBpm - bpm) / (highestBpm - lowestBpm);
  const dots = takes.map(({ takeId, tempoBpm, playedAtMs, clean, slots }) => ({
    x: spanMs === 0 ? 0.5 : (playedAtMs - firstMs) / spanMs,
    y: yOf(tempoBpm),
    takeId,
    isClean: clean >= CLEAN_SHARE * slots,
    words: `${DAY.format(playedAtMs)}: ${clean} of ${slots} clean at ${tempoBpm}`,
  }));
  return { dots, goalY: goalBpm === null ? null : yOf(goalBpm), lowestBpm, highestBpm };
}
