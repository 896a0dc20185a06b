/** A demo take into the library, on the chart and under the settings it was written for. */

import type { Bridge, CallReply, ChartRow } from '../../../../shared/bridge/index.ts';
import { prepareForm } from '../../../core/chart/index.ts';
import { failure, type Outcome, success } from '../../../core/problem.ts';
import { LEVELS } from '../../../core/words.ts';
import { bytesFromBase64 } from '../../app/base64.ts';
import { refusalWords } from '../../app/refusal-words.ts';
import { firstChoice, NO_HAND, setUpOf } from '../../prepare/practice-choice.ts';
import { FILE_AS_IT_IS, takeFromFile } from '../../prepare/take-from-file.ts';

/** Answers the id of the take. */
export async function addDemoTake(
  bridge: Bridge,
  demo: CallReply<'demos.list'>[number],
  charts: readonly ChartRow[],
): Promise<Outcome<string, string>> {
  const got = await bridge.ask('demos.get', { file: demo.file });
  if (!got.ok) return failure(refusalWords(got.refusal));
  const row = charts.find(({ chartId }) => chartId === got.value.chartId);
  const level = LEVELS.find((known) => known === demo.level);
  if (row === undefined || level === undefined) {
    return failure('This demo take does not fit its chart.');
  }
  const choice = { ...firstChoice(), plan: demo.plan, level, tempoBpm: demo.tempo, choruses: null };
  const prepared = prepareForm(row.text, choice);
  if (!prepared.ok) return prepared;
  const hand = { ...NO_HAND, splitMidi: demo.split };
  const leftHand = demo.split !== null;
  const setUp = setUpOf(row, prepared.value, { ...choice, leftHand }, hand);
  const bytes = bytesFromBase64(got.value.base64);
  const read = takeFromFile(bytes, prepared.value.form, setUp, FILE_AS_IT_IS);
  if (!read.ok) return read;
  const { startMs: _inFile, ...take } = read.value;
  const added = await bridge.ask('takes.add', { ...take, startedAtMs: null, decision: null });
  return added.ok ? success(added.value.takeId) : failure(refusalWords(added.refusal));
}
