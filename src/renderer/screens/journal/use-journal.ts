/** The journal of a span of time. */

import { useMemo } from 'react';
import { type Journal, journalOf } from '../../../core/journal/index.ts';
import { useAnswer } from '../../data/index.ts';
import type { Span } from './journal-model.ts';

interface AskedJournal {
  /** Null until it is there. */
  readonly journal: Journal | null;
  /** When the first and the last take of all began; null without one. */
  readonly all: { readonly firstMs: number; readonly lastMs: number } | null;
  readonly failure: string | null;
}

/** `utcOffsetMinutes` is how far the player's clock was ahead of UTC then. */
export function useJournal({ fromMs, toMs }: Span, utcOffsetMinutes: number): AskedJournal {
  const takes = useAnswer('journal.takes', { fromMs, toMs });
  const remarks = useAnswer('journal.remarks', {});
  const journal = useMemo(() => {
    if (takes.value === null || remarks.value === null) return null;
    const own = remarks.value.filter(({ atMs }) => atMs >= fromMs && atMs < toMs);
    return journalOf(takes.value.takes, own, utcOffsetMinutes);
  }, [takes.value, remarks.value, fromMs, toMs, utcOffsetMinutes]);
  return { journal, all: takes.value?.all ?? null, failure: takes.failure ?? remarks.failure };
}
