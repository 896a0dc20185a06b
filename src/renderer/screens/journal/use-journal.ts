/** The journal of a span of time. */

import { useMemo } from 'react';
import { type Journal, journalOf } from '../../../core/journal/index.ts';
import { useAnswer } from '../../data/index.ts';
import type { Span } from './journal-model.ts';

interface AskedJournal {
  /** Null until it is there. */
  readonly journal: Journal | null;
  /** The day of the last take of all; null without one. */
  readonly lastDay: number | null;
  readonly failure: string | null;
}

export function useJournal({ fromMs, toMs }: Span): AskedJournal {
  const takes = useAnswer('journal.takes', { fromMs, toMs });
  const remarks = useAnswer('journal.remarks', {});
  const journal = useMemo(() => {
    if (takes.value === null || remarks.value === null) return null;
    const own = remarks.value.filter(({ atMs }) => atMs >= fromMs && atMs < toMs);
    return journalOf(takes.value.takes, own);
  }, [takes.value, remarks.value, fromMs, toMs]);
  return {
    journal,
    lastDay: takes.value?.lastDay ?? null,
    failure: takes.failure ?? remarks.failure,
  };
}
