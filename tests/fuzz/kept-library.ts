/** A small library that archives are imported into, and what must hold of it afterwards. */

import type { DatabaseSync } from 'node:sqlite';
import { type Bridge, importResultSchema } from '../../shared/bridge/index.ts';
import { mergedWords } from '../../shared/notice-words.ts';
import { tellRefusal } from '../../shared/refusal-words.ts';
import { EARLIEST_MS, LATEST_MS } from '../../src/core/journal/index.ts';
import { mergeContents, packTake, readContents } from '../../src/main/store/index.ts';
import { gradeStored } from '../../src/main/takes/index.ts';
import { fetchArchive, sendArchive } from '../../src/renderer/library/archive-transfer.ts';
import { MELODY } from '../helpers/library.ts';
import { type OpenedLibrary, openInMemory } from './library.ts';
import { chartTextOf, DEVICE, REMARK, SETTINGS, takeOf } from './library-files.ts';
import { must, sameJson } from './target.ts';

interface KeptLibrary {
  readonly library: OpenedLibrary;
  /** Its rows when it was filled. */
  readonly before: string;
  /** Ends it: the next input has another. */
  release(): void;
}

let kept: KeptLibrary | null = null;
process.once('exit', () => kept?.release());

export function keptLibrary(): KeptLibrary {
  if (kept !== null) return kept;
  const library = openInMemory();
  fillSmall(library.database);
  kept = {
    library,
    before: rowsOf(library.database),
    release() {
      kept = null;
      library.close();
    },
  };
  return kept;
}

/** One chart and one take that are there, and one of each that were deleted. */
function fillSmall(database: DatabaseSync): void {
  const { schema: _schema, ...take } = takeOf('take-1');
  // As the program has them: what an import makes of the same events is the same.
  const { figures } = gradeStored(take.setUp, take, take.decision);
  mergeContents(database, {
    charts: ['pier', 'gone'].map((chartId) => ({
      chartId,
      title: chartId,
      text: chartTextOf(chartId),
      updatedAtMs: 0,
    })),
    tags: [{ chartId: 'pier', tags: ['winter'] }],
    melodies: [{ chartId: 'pier', melody: MELODY }],
    settings: Object.entries(SETTINGS).map(([name, value]) => ({ name, value })),
    devices: [DEVICE],
    remarks: [REMARK],
    takes: ['take-1', 'take-gone'].map((takeId) => packTake({ ...take, takeId, figures })),
  });
  database.exec(`UPDATE charts SET deleted_at_ms = 5 WHERE chart_id = 'gone';
    UPDATE takes SET deleted_at_ms = 5 WHERE take_id = 'take-gone';`);
}

const TABLES = [
  ...['charts', 'takes', 'take_chunks', 'settings', 'devices', 'chart_tags', 'session_remarks'],
  'chart_melodies',
];

/** Every row of every table, as text, a line each. */
export function rowsOf(database: DatabaseSync): string {
  return TABLES.flatMap((table) =>
    database
      .prepare(`SELECT * FROM ${table} ORDER BY 1, 2`)
      .all()
      .map((row) => `${table} ${JSON.stringify(row)}`),
  ).join('\n');
}

/** Throws unless what was imported is there whole, beside all there was, and can be read, exported and imported elsewhere. */
export async function importedWhole(
  { services, bridge, database }: OpenedLibrary,
  before: string,
  answer: unknown,
  file: Blob,
  isLookedInto: boolean,
): Promise<void> {
  const result = importResultSchema.parse(answer);
  const after = rowsOf(database);
  const lines = new Set(after.split('\n'));
  for (const line of before.split('\n')) {
    const wasDeleted = line.includes('"deleted_at_ms":5');
    must(wasDeleted || lines.has(line), `an import took away or changed ${line}`);
  }
  const { unread, ...contents } = contentsOf(database);
  must(unread.length === 0, `an import brought what cannot be read: ${unread.join()}`);
  for (const kind of ['charts', 'takes', 'settings', 'devices'] as const) {
    const more = contents[kind].length - 1;
    must(more === result.added[kind], `${more} more ${kind}, told were ${result.added[kind]}`);
  }
  for (const told of result.told)
    must(mergedWords(told).length < 1200, 'what is told is too long to be read');

  const again = await sendArchive(bridge, file, 'two', () => {});
  must(again.ok, 'an archive is refused the second time');
  const { added } = importResultSchema.parse(again.value);
  must(sameJson(Object.values(added), [0, 0, 0, 0]), `it comes in twice: ${JSON.stringify(added)}`);
  must(rowsOf(database) === after, 'the second import of an archive changes the library');

  const lists: readonly (readonly [string, object])[] = [
    ['charts.list', {}],
    ['takes.list', { chartId: null, limit: 10_000 }],
    ['journal.takes', { fromMs: EARLIEST_MS, toMs: LATEST_MS }],
    ['journal.remarks', {}],
    ['settings.get', {}],
    ['devices.list', {}],
  ];
  const details: typeof lists = [
    ['progress.practices', { most: null }],
    ...contents.takes.map(({ takeId }) => ['takes.get', { takeId }] as const),
  ];
  for (const [name, request] of isLookedInto ? [...lists, ...details] : lists) {
    const list = await services(name, request);
    must(
      list.ok,
      `${name} fails after an import: ${list.ok ? '' : tellRefusal(list.refusal).message}`,
    );
  }
  if (isLookedInto) await comesOutWhole(bridge, contents);
}

/** Throws unless an export of the library fills an empty one with the same. */
async function comesOutWhole(bridge: Bridge, contents: object): Promise<void> {
  const made = await fetchArchive(bridge, () => {});
  must(
    made.ok,
    `what was imported cannot be exported: ${made.ok ? '' : tellRefusal(made.refusal).message}`,
  );
  const empty = openInMemory();
  try {
    const answer = await sendArchive(empty.bridge, new Blob([...made.pieces]), 'one', () => {});
    must(
      answer.ok,
      `what was exported is refused: ${answer.ok ? '' : tellRefusal(answer.refusal).message}`,
    );
    const { unread: _unread, ...there } = contentsOf(empty.database);
    must(sameJson(there, contents), 'an export is not what was in the library');
  } finally {
    empty.close();
  }
}

/** All that is in a library, in an order of its own. */
function contentsOf(database: DatabaseSync) {
  const contents = readContents(database);
  const inOrder = <Item>(items: readonly Item[]): readonly Item[] =>
    [...items].sort((one, other) => (JSON.stringify(one) < JSON.stringify(other) ? -1 : 1));
  return {
    charts: inOrder(contents.charts()),
    tags: inOrder(contents.tags()),
    melodies: inOrder(contents.melodies()),
    settings: inOrder(contents.settings()),
    devices: inOrder(contents.devices()),
    remarks: inOrder(contents.remarks()),
    takes: inOrder(contents.takeRows().flatMap((row) => contents.take(row) ?? [])),
    unread: contents.unread,
  };
}
