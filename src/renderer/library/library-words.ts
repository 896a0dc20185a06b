/** What the library holds and what became of it, in words. */

import type { CallReply, ImportResult, LibraryState } from '../../../shared/bridge/index.ts';
import { mergedWords } from '../../../shared/notice-words.ts';

const WHEN = new Intl.DateTimeFormat(undefined, { dateStyle: 'long', timeStyle: 'short' });

/** A moment as a player reads it. */
export function whenWords(atMs: number): string {
  return WHEN.format(atMs);
}

function counted(count: number, one: string, many: string): string {
  return `${count} ${count === 1 ? one : many}`;
}

/** “12 charts and 1 take”. */
export function chartsAndTakes(charts: number, takes: number): string {
  return `${counted(charts, 'chart', 'charts')} and ${counted(takes, 'take', 'takes')}`;
}

export function backupWords({ backups }: Extract<LibraryState, { kind: 'open' }>): string {
  const [newest] = backups;
  if (newest === undefined) return 'There is no backup yet.';
  const kept = backups.length === 1 ? 'It is the only one.' : `${backups.length} are kept.`;
  return `The last backup is of ${whenWords(newest.madeAtMs)}. ${kept}`;
}

export function exportWords({ charts, takes, unread }: CallReply<'archive.export'>): string {
  const lost =
    unread.length === 0 ? '' : ` ${counted(unread.length, 'thing', 'things')} could not be read:`;
  return `${chartsAndTakes(charts, takes)} exported.${lost}`;
}

export function importWords({ added, alreadyHere }: ImportResult): string {
  const sum = (counts: ImportResult['added']): number =>
    counts.charts + counts.takes + counts.settings + counts.devices;
  const rest = added.settings + added.devices;
  const more = rest === 0 ? '' : `, ${counted(rest, 'setting', 'settings')}`;
  const here = sum(alreadyHere);
  const known = here === 0 ? '' : ` ${here} ${here === 1 ? 'was' : 'were'} here already.`;
  return `${chartsAndTakes(added.charts, added.takes)}${more} imported.${known}`;
}

/** What was kept twice or left, one line each, and how many more there are. */
export function toldLines({ told, untold }: ImportResult): readonly string[] {
  const lines = told.map(mergedWords);
  return untold === 0 ? lines : [...lines, `and ${untold} more of these.`];
}
