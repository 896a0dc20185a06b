/** A recorded MIDI file as a take over a chosen form. */

import type { TakeSetUp } from '../../../shared/bridge/index.ts';
import type { Form } from '../../core/chart/index.ts';
import { openingTempoBpm } from '../../core/grid/index.ts';
import { failure, type Outcome, success } from '../../core/problem.ts';
import type { TakeEvent } from '../../core/take/model.ts';
import { decodeSmf, describeSmfProblem, takeFromSmf } from '../../core/take/smf/index.ts';

export interface FileTake {
  readonly setUp: TakeSetUp;
  readonly events: readonly TakeEvent[];
  readonly endMs: number;
}

/** Reads a file; it is graded at the tempo the file opens with. Problems are sentences. */
export function takeFromFile(
  bytes: Uint8Array,
  form: Form,
  setUp: TakeSetUp,
): Outcome<FileTake, string> {
  const file = decodeSmf(bytes);
  const read = file.ok ? takeFromSmf(file.value, null) : file;
  if (!read.ok) return failure(...read.problems.map(describeSmfProblem));
  const { take, tempo } = read.value;
  const isSteady = tempo.points.length === 1;
  const tempoBpm = openingTempoBpm(form, tempo);
  const grade = {
    ...setUp.grade,
    tempo: isSteady ? { kind: 'steady' as const, tempoBpm } : tempo,
  };
  return success({ setUp: { ...setUp, grade }, events: take.events, endMs: take.endMs });
}
