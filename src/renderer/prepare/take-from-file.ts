/** A recorded MIDI file as a take over a chosen form. */

import type { TakeDecision, TakeSetUp } from '../../../shared/bridge/index.ts';
import type { Form } from '../../core/chart/index.ts';
import { openingTempoBpm } from '../../core/grid/index.ts';
import { failure, type Outcome, success } from '../../core/problem.ts';
import type { TakeEvents } from '../../core/take/model.ts';
import {
  decodeSmf,
  describeSmfProblem,
  type FileSettings,
  takeFromSmf,
} from '../../core/take/smf/index.ts';
import { firstChoice, type PracticeChoice } from './practice-choice.ts';

export interface FileTake extends TakeEvents {
  readonly setUp: TakeSetUp;
  /** Where the first downbeat was taken to be, ms in the file. */
  readonly startMs: number;
}

/** What a file of this program says of how it was graded; one of another program says nothing. */
export interface FileSays {
  readonly settings: FileSettings | null;
  readonly decision: TakeDecision | null;
}

/** Reads what a file says of itself: nothing also where it cannot be read, which is told when it is laid on a form. */
export function fileSays(bytes: Uint8Array): FileSays {
  const file = decodeSmf(bytes);
  const read = file.ok ? takeFromSmf(file.value, null) : file;
  return read.ok ? read.value : { settings: null, decision: null };
}

/** The choice a file is opened with: as it was graded before, and without a planned end where it names none. */
export function choiceOfFile({ settings }: FileSays): PracticeChoice {
  const { latencyMs: _ofSources, splitMidi: _ofHand, ...chosen } = settings ?? {};
  return { ...firstChoice(), choruses: null, ...chosen };
}

/** How a file lies on the form. */
export interface FileMapping {
  /** First downbeat, ms in the file; null: where the file marks it, else its start. */
  readonly startMs: number | null;
  /** Null: the file's own tempo map. */
  readonly tempoBpm: number | null;
}

export const FILE_AS_IT_IS: FileMapping = { startMs: null, tempoBpm: null };

/** Reads a file; without a tempo of the player's it is graded at its own. Problems are sentences. */
export function takeFromFile(
  bytes: Uint8Array,
  form: Form,
  setUp: TakeSetUp,
  mapping: FileMapping,
): Outcome<FileTake, string> {
  const file = decodeSmf(bytes);
  const read = file.ok ? takeFromSmf(file.value, mapping.startMs) : file;
  if (!read.ok) return failure(...read.problems.map(describeSmfProblem));
  const { take, tempo, startMs } = read.value;
  const isSteady = tempo.points.length === 1;
  const tempoBpm = mapping.tempoBpm ?? (isSteady ? openingTempoBpm(form, tempo) : null);
  const grade = {
    ...setUp.grade,
    tempo: tempoBpm === null ? tempo : { kind: 'steady' as const, tempoBpm },
  };
  return success({ setUp: { ...setUp, grade }, ...take, startMs });
}
