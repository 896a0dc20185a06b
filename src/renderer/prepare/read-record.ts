/** A stored take as it counts: graded by what it was played with, or by the reading that was taken. */

import { asPlayed, type TakeRecord } from '../../../shared/bridge/index.ts';
import { type Form, prepareForm } from '../../core/chart/index.ts';
import { describeReading } from '../../core/findings/index.ts';
import {
  completeSettings,
  gradeTake,
  type Reading,
  type Report,
  readTake,
} from '../../core/grading/index.ts';
import { type Outcome, success } from '../../core/problem.ts';
import { recordedTake } from './recorded-take.ts';

export interface ReadRecord {
  readonly form: Form;
  readonly report: Report;
  /** The take as the report has it: its events, its settings. What is drawn and heard beside the report is to be read from here. */
  readonly shown: TakeRecord;
  readonly isUndecided: boolean;
  /** The first other reading, or the one that was decided, in words; null where there is none. */
  readonly reading: { readonly reading: Reading; readonly words: string } | null;
}

/** Problems are sentences. */
export function readRecord(record: TakeRecord): Outcome<ReadRecord, string> {
  const setUp = asPlayed(record.setUp);
  const prepared = prepareForm(setUp.chartText, setUp);
  if (!prepared.ok) return prepared;
  const played = { form: prepared.value.form, take: recordedTake(record), settings: setUp.grade };
  const { decision } = record;
  const { form, take, settings, report, isUndecided } = readTake(played, decision);
  const reading = decision?.reading ?? report.readings[0] ?? null;
  const base =
    decision?.choice === 'taken' ? gradeTake(played.form, played.take, played.settings) : report;
  return success({
    ...{ form, report, isUndecided },
    shown: {
      ...record,
      row: { ...record.row, endMs: take.endMs },
      events: take.events,
      sources: take.sources,
      breaks: take.breaks,
      setUp: { ...record.setUp, grade: completeSettings(settings) },
    },
    reading: reading && { reading, words: describeReading(reading, base, played.form) },
  });
}
