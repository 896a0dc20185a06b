/** What a library of years costs: opening, a backup, an export and an import, and how long a take would wait meanwhile. */

import { readdirSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { monitorEventLoopDelay } from 'node:perf_hooks';
import { createTransfer, exportArchive, importArchive } from '../../src/main/archive/index.ts';
import {
  createBackups,
  createTakeStore,
  openLibrary,
  readContents,
} from '../../src/main/store/index.ts';
import { inspectLibrary } from '../../src/main/store/inspect.ts';
import { eventsOf, newFolder } from '../helpers/library.ts';
import { setUpFor } from '../helpers/set-up.ts';
import type { Bench, Measure } from './bench.ts';

/** Four takes a day for two years, each of five minutes at two notes a second. */
const TAKES = 3000;
const NOTES = 600;

function makeLibrary(folder: string): string {
  const file = join(folder, 'library.sqlite');
  const database = openLibrary(file);
  const takes = createTakeStore(database, 'bench');
  database.exec('BEGIN');
  for (let take = 0; take < TAKES; take++) {
    takes.add(setUpFor(), take * 3_600_000, eventsOf(take, NOTES), 1, null);
  }
  database.exec('COMMIT');
  database.close();
  return file;
}

/** Milliseconds of a work, and the longest the event loop was held meanwhile. */
async function timed(
  work: () => unknown,
): Promise<{ readonly ms: number; readonly heldMs: number }> {
  const delays = monitorEventLoopDelay({ resolution: 5 });
  delays.enable();
  const startMs = performance.now();
  await work();
  const ms = performance.now() - startMs;
  await new Promise((resolve) => setTimeout(resolve, 20));
  delays.disable();
  return { ms, heldMs: delays.max / 1e6 };
}

async function run(): Promise<readonly Measure[]> {
  const folder = newFolder();
  const file = makeLibrary(folder);
  const checked = await timed(() => inspectLibrary(file));
  const database = openLibrary(file);
  const backups = createBackups(database, join(folder, 'backups'), Date.now, () => {});
  const backedUp = await timed(() => backups.make());
  const transfer = createTransfer(join(folder, 'transfer'));
  const exported = await timed(() => exportArchive(readContents(database), transfer, '1.2.3', 1));
  const [name = ''] = readdirSync(join(folder, 'transfer'));
  const archiveBytes = statSync(join(folder, 'transfer', name)).size;

  const other = openLibrary(join(newFolder(), 'library.sqlite'));
  const uploads = createTransfer(join(newFolder(), 'transfer'));
  for (let from = 0; ; ) {
    const piece = transfer.read(name, from);
    if (piece.length === 0) break;
    from = uploads.put('one', from, piece);
  }
  const imported = await timed(() => importArchive(other, uploads, 'one'));
  const values = (what: typeof checked): Record<string, number> => ({
    ms: what.ms,
    'ms per take': what.ms / TAKES,
    'event loop held, at most': what.heldMs,
  });
  const measures: Measure[] = [
    {
      name: `library of ${TAKES} takes of ${NOTES} notes`,
      unit: 'MB',
      values: {
        library: statSync(file).size / 1e6,
        archive: archiveBytes / 1e6,
        'peak memory': process.resourceUsage().maxRSS / 1024,
      },
    },
    { name: 'check at the start', unit: 'ms', values: values(checked) },
    { name: 'backup, in the background', unit: 'ms', values: values(backedUp) },
    { name: 'export', unit: 'ms', values: values(exported) },
    { name: 'import into an empty library', unit: 'ms', values: values(imported) },
  ];
  database.close();
  other.close();
  return measures;
}

export const storeBench: Bench = {
  title: 'Store',
  about:
    'A take that is played in another window waits at most as long as the event loop is held; its notes are kept in the page until then.',
  run,
};
