/** Hand-over files written, read and taken into the library. */

import type { Bridge, ChartRow } from '../../../shared/bridge/index.ts';
import { HAND_OVER_SCHEMA, type HandOver, handOverSchema } from '../../../shared/hand-over.ts';
import type { z } from '../../../shared/schema.ts';
import { prepareForm } from '../../core/chart/index.ts';
import type { Melody } from '../../core/melody/index.ts';
import { failure, type Outcome, success } from '../../core/problem.ts';
import { refusalWords } from '../app/refusal-words.ts';
import {
  firstChoice,
  type PracticeChoice,
  readPracticeChoice,
  storePracticeChoice,
} from './practice-choice.ts';

/** The file of a chart and how it is to be practised; with a take, the way back. */
export function writeHandOver(
  chart: Pick<ChartRow, 'title' | 'text'> & { readonly melody: Melody | null },
  choice: PracticeChoice,
  note: string,
  take: HandOver['take'],
): string {
  const { plan, key, level, tempoBpm, goalBpm, bars, choruses } = choice;
  const handOver: z.input<typeof handOverSchema> = {
    schema: HAND_OVER_SCHEMA,
    title: chart.title,
    chart: chart.text,
    ...(chart.melody === null ? {} : { melody: chart.melody }),
    assignment: { plan, key, level, tempoBpm, goalBpm, bars, choruses },
    note,
    take,
  };
  return JSON.stringify(handOver);
}

/** Reads a file; problems are sentences. The chart in it must be one that can be played as it asks. */
export function readHandOver(bytes: Uint8Array): Outcome<HandOver, string> {
  const data = parseJson(bytes);
  if (data === undefined) {
    return failure('It is no hand-over file, or it broke off on its way. Ask for it again.');
  }
  const read = handOverSchema.safeParse(data);
  if (!read.success) return failure(describeMisfit(data, read.error.issues[0]));
  const { chart, assignment, take } = read.data;
  const prepared = prepareForm(chart, assignment);
  if (!prepared.ok) return failure('Its chart cannot be read.', ...prepared.problems);
  if (take !== null) {
    const played = prepareForm(take.setUp.chartText, take.setUp);
    if (!played.ok) return failure('The chart of its take cannot be read.', ...played.problems);
  }
  return success(read.data);
}

function parseJson(bytes: Uint8Array): unknown {
  try {
    return JSON.parse(new TextDecoder('utf-8', { fatal: true }).decode(bytes));
  } catch {
    return undefined;
  }
}

interface Misfit {
  readonly path: readonly PropertyKey[];
  readonly message: string;
}

function describeMisfit(data: unknown, issue: Misfit | undefined): string {
  const schema = typeof data === 'object' && data !== null && 'schema' in data ? data.schema : null;
  if (typeof schema === 'string' && schema !== HAND_OVER_SCHEMA) {
    return `It was written as ${schema.slice(0, 60)}, this program reads ${HAND_OVER_SCHEMA}. Open it with the newer program, or ask for the chart as text.`;
  }
  const place =
    issue === undefined ? '' : ` (${issue.path.join('.') || 'the whole'}: ${issue.message})`;
  return `It is no hand-over file this program can read${place}. Ask for it again.`;
}

/** Takes a file into the library: the chart and the take unless they are there, and how it is to be practised. */
export async function takeHandOver(
  bridge: Bridge,
  { title, chart, melody, assignment, note, take }: HandOver,
): Promise<Outcome<{ readonly chartId: string; readonly takeId: string | null }, string>> {
  const rows = await bridge.ask('charts.list', {});
  if (!rows.ok) return failure(refusalWords(rows.refusal));
  const known = rows.value.find(({ text }) => text === chart)?.chartId;
  const added =
    known === undefined
      ? await bridge.ask('charts.add', { charts: [{ title, text: chart, melody }] })
      : ({ ok: true, value: { chartIds: [known] } } as const);
  if (!added.ok) return failure(refusalWords(added.refusal));
  const [chartId] = added.value.chartIds;
  if (chartId === undefined) return failure('The chart was not stored. Open the file again.');
  if (known !== undefined && melody !== null) {
    const missed = await addMelody(bridge, chartId, melody);
    if (missed !== null) return failure(missed);
  }
  const settings = await bridge.ask('settings.get', {});
  const before = settings.ok ? readPracticeChoice(settings.value, chartId) : firstChoice();
  const choice = { ...before, ...assignment, note };
  const chosen = await bridge.ask('settings.set', { values: storePracticeChoice(chartId, choice) });
  if (!chosen.ok) return failure(refusalWords(chosen.refusal));
  if (take === null) return success({ chartId, takeId: null });
  const setUp = { ...take.setUp, chartId };
  const stored = await bridge.ask('takes.add', { ...take, setUp, decision: null });
  return stored.ok
    ? success({ chartId, takeId: stored.value.takeId })
    : failure(refusalWords(stored.refusal));
}

/** Gives a chart that has none the melody it was handed over with; answers what went wrong, or null. */
async function addMelody(bridge: Bridge, chartId: string, melody: Melody): Promise<string | null> {
  const present = await bridge.ask('charts.melody', { chartId });
  if (!present.ok) return refusalWords(present.refusal);
  if (present.value.melody !== null) return null;
  const saved = await bridge.ask('charts.saveMelody', { chartId, melody });
  return saved.ok ? null : refusalWords(saved.refusal);
}
