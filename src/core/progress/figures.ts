/** What is kept of a report beside its take. Plain data that survives JSON. */

import type { Form } from '../chart/index.ts';
import type { Report } from '../grading/index.ts';
import { evidenceOf, type TakeEvidence } from './evidence.ts';

export interface Figures {
  readonly slots: number;
  readonly clean: number;
  readonly changesCounted: number;
  readonly changesOnTime: number;
  readonly changesUnproven: number;
  readonly changesLeftOut: number;
  readonly evidence: Pick<TakeEvidence, 'choruses' | 'bars' | 'lateChanges' | 'chords'>;
}

/** The figures of a report over the form it was graded on: the counts every list shows, and the evidence weeks are judged by. */
export function figuresOf(report: Report, form: Form): Figures {
  const { playedAtMs: _day, slots, clean, ...rest } = evidenceOf(report, form, 0);
  const { changesCounted, changesOnTime, changesUnproven, changesLeftOut, ...evidence } = rest;
  const changes = { changesCounted, changesOnTime, changesUnproven, changesLeftOut };
  return { slots, clean, ...changes, evidence };
}
