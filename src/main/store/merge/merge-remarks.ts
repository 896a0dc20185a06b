/** Remarks on sessions that come in: there is one of a moment, and the one here stays. They are not counted. */

import type { DatabaseSync } from 'node:sqlite';
import type { SessionRemark } from '../../../core/journal/index.ts';
import type { Contents } from '../contents.ts';
import type { Tally } from './tally.ts';

export function mergeRemarks(
  database: DatabaseSync,
  own: Contents,
  incoming: readonly SessionRemark[],
  { told }: Pick<Tally, 'told'>,
): void {
  const here = new Map(own.remarks().map(({ atMs, text }) => [atMs, text]));
  const insert = database.prepare('INSERT INTO session_remarks (at_ms, text) VALUES (?, ?)');
  for (const { atMs, text } of incoming) {
    const known = here.get(atMs);
    if (known === undefined) {
      insert.run(atMs, text);
      here.set(atMs, text);
    } else if (known !== text) {
      told.push({ kind: 'remark', atMs });
    }
  }
}
