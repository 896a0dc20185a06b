/** A chart file as chart text. A chart with an error is not taken: nothing changes until it can be read. */

import { formatChart, prepareForm } from '../../core/chart/index.ts';
import type { Melody } from '../../core/melody/index.ts';
import { failure, type Outcome, success } from '../../core/problem.ts';
import { PLAIN } from '../../core/words.ts';
import type { OpenedFile } from '../app/opened-file.ts';

export interface FileChart {
  readonly title: string;
  readonly text: string;
  readonly melody: Melody | null;
  /** What the file holds that a chart cannot; sentences. */
  readonly notices: readonly string[];
}

/** Reads the chart of a file; problems are sentences with their places. */
export async function chartFromFile(file: OpenedFile): Promise<Outcome<FileChart, string>> {
  const { name, bytes } = file;
  if (!/\.(changes|chart|txt)$/iu.test(name)) return chartFromScore(bytes);
  const text = decodeText(bytes);
  if (text === null) {
    return failure('It is no text in UTF-8. Save it as UTF-8 in a text editor and open it again.');
  }
  const prepared = prepareForm(text, { plan: PLAIN, key: null, bars: null });
  if (!prepared.ok) return prepared;
  return success({ title: prepared.value.chart.title, text, melody: null, notices: [] });
}

async function chartFromScore(bytes: Uint8Array): Promise<Outcome<FileChart, string>> {
  // Few charts come this way: its parser is loaded when the first one does.
  const { describeMusicXmlNotice, describeMusicXmlProblem, readMusicXml } = await import(
    '../../core/chart/musicxml/index.ts'
  );
  const score = readMusicXml(bytes);
  if (!score.ok) return failure(...score.problems.map(describeMusicXmlProblem));
  const { chart, melody, notices } = score.value;
  return success({
    title: chart.title,
    text: formatChart(chart),
    melody,
    notices: notices.map(describeMusicXmlNotice),
  });
}

function decodeText(bytes: Uint8Array): string | null {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    return null;
  }
}
