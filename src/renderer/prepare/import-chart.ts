/** A chart file into the library. A chart with an error is not saved: nothing changes until it can be read. */

import type { Bridge } from '../../../shared/bridge/index.ts';
import { failure, type Outcome, success } from '../../core/problem.ts';
import { PLAIN } from '../../core/words.ts';
import type { OpenedFile } from '../app/opened-file.ts';
import { refusalWords } from '../app/refusal-words.ts';
import { prepareForm } from './prepare-form.ts';

/** Saves the chart of a file; problems are sentences with their places. */
export async function importChart(
  bridge: Bridge,
  { bytes }: OpenedFile,
): Promise<Outcome<{ readonly chartId: string }, string>> {
  const text = decodeText(bytes);
  if (text === null) {
    return failure('It is no text in UTF-8. Save it as UTF-8 in a text editor and open it again.');
  }
  const prepared = prepareForm(text, { plan: PLAIN, key: null, bars: null });
  if (!prepared.ok) return prepared;
  const { title } = prepared.value.chart;
  const saved = await bridge.ask('charts.save', { chartId: null, title, text });
  return saved.ok ? success(saved.value) : failure(refusalWords(saved.refusal));
}

function decodeText(bytes: Uint8Array): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return null;
  }
}
