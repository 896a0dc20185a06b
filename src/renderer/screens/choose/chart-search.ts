/** Finding and ordering charts. Pure. */

import type { ChartRow } from '../../../../shared/bridge/index.ts';
import type { Option } from '../../look/fields.tsx';

/** A list longer than this helps nobody to find anything; what lies beyond is searched for. Own choice. */
export const SHOWN_AT_ONCE = 300;

export type ChartOrder = 'title' | 'lastPlayed';

export const ORDERS: readonly Option<ChartOrder>[] = [
  { value: 'title', words: 'title' },
  { value: 'lastPlayed', words: 'last played' },
];

/** Charts whose title, tags or text hold every word of the search. */
export function findCharts(charts: readonly ChartRow[], search: string): readonly ChartRow[] {
  const words = search.toLowerCase().split(/\s+/).filter(Boolean);
  if (words.length === 0) return charts;
  return charts.filter(({ title, text, tags }) => {
    const whole = `${title}\n${tags.join('\n')}\n${text}`.toLowerCase();
    return words.every((word) => whole.includes(word));
  });
}

/** By title, or the last played first and those never played, by title, behind them. */
export function orderCharts(charts: readonly ChartRow[], order: ChartOrder): readonly ChartRow[] {
  const { compare } = new Intl.Collator();
  const byTitle = [...charts].sort((one, other) => compare(one.title, other.title));
  if (order === 'title') return byTitle;
  return byTitle.sort((one, other) => (other.lastPlayedAtMs ?? 0) - (one.lastPlayedAtMs ?? 0));
}
