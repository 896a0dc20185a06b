/** The takes of a practice laid out over days, tempos and clean rates. Pure. */

import type { PracticeDetail } from '../../../../shared/bridge/index.ts';
import { counted, percent } from '../../../core/findings/index.ts';
import { DAY_MS, effectiveInterval } from '../../../core/progress/index.ts';

/** One take; of a long history all takes at one tempo in a stretch of time. */
export interface PlotMark {
  /** Shares of the plot: x from the first day to the last, y from the top of the tempos. */
  readonly x: number;
  readonly y: number;
  /** The newest of them. */
  readonly takeId: string;
  /** Nine slots in ten clean, or more. */
  readonly isClean: boolean;
  /** Shares from the top of the rates: the clean rate, and the bounds of its interval. */
  readonly rate: { readonly y: number; readonly upperY: number; readonly lowerY: number };
  readonly words: string;
}

export interface TempoPlotModel {
  /** From the first day to the last, the slowest of a stretch first. */
  readonly marks: readonly PlotMark[];
  readonly goalY: number | null;
  /** Where nine in ten lies among the rates. */
  readonly cleanY: number;
  readonly lowestBpm: number;
  readonly highestBpm: number;
  readonly lowestRate: number;
  readonly firstDay: string;
  readonly lastDay: string;
}

const CLEAN_SHARE = 0.9;
const MARGIN_BPM = 4;
/** More takes than this are drawn in as many stretches of time: dots would cover one another. Own choice. */
const MOST_ACROSS = 40;
/** Rates are drawn from a round tenth, and no nearer to 1 than this. Own choice. */
const HIGHEST_LOWEST_RATE = 0.8;

type Take = PracticeDetail['takes'][number];

/** Lays the takes of a practice out, newest first as they come. Their slots count for as many fewer as the design effect says. */
export function tempoPlot(
  { takes, designEffect }: Pick<PracticeDetail, 'takes' | 'designEffect'>,
  goalBpm: number | null,
): TempoPlotModel {
  const tempos = takes.map(({ tempoBpm }) => tempoBpm);
  const lowestBpm = Math.min(...tempos) - MARGIN_BPM;
  const highestBpm = Math.max(...tempos, goalBpm ?? 0) + MARGIN_BPM;
  const times = takes.map(({ playedAtMs }) => playedAtMs);
  const days = takes.map(({ day }) => day);
  const [firstMs, lastMs] = [Math.min(...times), Math.max(...times)];
  const spanMs = lastMs - firstMs;
  const across = (ms: number): number => (spanMs === 0 ? 0.5 : (ms - firstMs) / spanMs);
  const groups = grouped(takes, designEffect, across);
  const lowestRate = Math.min(
    HIGHEST_LOWEST_RATE,
    ...groups.map(({ interval }) => Math.floor(interval.lower * 10) / 10),
  );
  const bpmY = (bpm: number): number => (highestBpm - bpm) / (highestBpm - lowestBpm);
  const rateY = (rate: number): number => (1 - rate) / (1 - lowestRate);
  const marks = groups.map(({ x, tempoBpm, takeId, rate, interval, words }): PlotMark => {
    const { lower, upper } = interval;
    return {
      ...{ x, y: bpmY(tempoBpm), takeId, isClean: rate >= CLEAN_SHARE, words },
      rate: { y: rateY(rate), upperY: rateY(upper), lowerY: rateY(lower) },
    };
  });
  return {
    ...{ marks, lowestBpm, highestBpm, lowestRate },
    goalY: goalBpm === null ? null : bpmY(goalBpm),
    cleanY: rateY(CLEAN_SHARE),
    firstDay: dayWords(Math.min(...days)),
    lastDay: dayWords(Math.max(...days)),
  };
}

/** Takes of one stretch and tempo summed, in the order they are drawn in. */
function grouped(takes: readonly Take[], designEffect: number, across: (ms: number) => number) {
  const isLong = takes.length > MOST_ACROSS;
  const stretchOf = ({ playedAtMs }: Take): number =>
    Math.min(MOST_ACROSS - 1, Math.floor(across(playedAtMs) * MOST_ACROSS));
  const byPlace = Map.groupBy(takes, (take) =>
    isLong ? `${stretchOf(take)} ${take.tempoBpm}` : take.takeId,
  );
  return [...byPlace.values()]
    .flatMap((own) => {
      const [newest] = own;
      const oldest = own.at(-1);
      if (newest === undefined || oldest === undefined) return [];
      const { takeId, tempoBpm, playedAtMs } = newest;
      const slots = own.reduce((sum, take) => sum + take.slots, 0);
      const clean = own.reduce((sum, take) => sum + take.clean, 0);
      const interval = effectiveInterval(clean, slots, designEffect);
      const [from, to] = [dayWords(oldest.day), dayWords(newest.day)];
      const when = from === to ? to : `${from} to ${to}`;
      const sure = `surely ${percent(interval.lower)} to ${percent(interval.upper)}`;
      const many = own.length === 1 ? '' : `, ${counted(own.length, 'take')}`;
      return [
        {
          ...{ takeId, tempoBpm, interval },
          x: isLong ? (stretchOf(newest) + 0.5) / MOST_ACROSS : across(playedAtMs),
          rate: slots === 0 ? 0 : clean / slots,
          words: `${when}: ${clean} of ${slots} clean at ${tempoBpm}, ${sure}${many}`,
        },
      ];
    })
    .sort((one, other) => one.x - other.x || one.tempoBpm - other.tempoBpm);
}

const DAY = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeZone: 'UTC' });

/** `Mar 14, 2026`, of days since 1970. */
export function dayWords(day: number): string {
  return DAY.format(day * DAY_MS);
}
