/** A chart file as chart text. A chart with an error is not taken: nothing changes until it can be read. */

import { failure, type Outcome, success } from '../../core/problem.ts';
import { PLAIN } from '../../core/words.ts';
import type { OpenedFile } from '../app/opened-file.ts';
import { prepareForm } from './prepare-form.ts';

export interface FileChart {
  readonly title: string;
  readonly text: string;
  /** What the file holds that a chart cannot; sentences. */
  readonly notices: readonly string[];
}

/** Reads the chart of a file; problems are sentences with their places. */
export async function chartFromFile({ bytes }: OpenedFile): Promise<Outcome<FileChart, string>> {
  const text = decodeText(bytes);
  if (text === null) {
    return failure('It is no text in UTF-8. Save it as UTF-8 in a text editor and open it again.');
  }
  const prepared = prepareForm(text, { plan: PLAIN, key: null, bars: null });
  if (!prepared.ok) return prepared;
  return success({ title: prepared.value.chart.title, text, notices: [] });
}

function decodeText(bytes: Uint8Array): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return null;
  }
}
