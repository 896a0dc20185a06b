/** The data folders that hosts are started on to be killed, made once and copied for each. */

import { cpSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import { inflateRawSync } from 'node:zlib';
import { writeArchive } from '../../src/main/archive/index.ts';
import { createBackups, openLibrary, readContents } from '../../src/main/store/index.ts';
import { MIGRATIONS } from '../../src/main/store/migrations.ts';
import { migrate } from '../../src/main/store/open-store.ts';
import { fill, newFolder } from '../helpers/library.ts';
import type { Work } from './works.ts';

export const FILLED_TAKES = 300;
export const ARCHIVED_TAKES = 80;

export interface Templates {
  readonly archive: string;
  /** The ids of the takes in the archive. */
  readonly archivedIds: readonly string[];
  folderFor(work: Work): string;
}

export async function makeTemplates(): Promise<Templates> {
  const root = newFolder();
  const filled = join(root, 'filled');
  const database = openLibrary(join(filled, 'library.sqlite'));
  fill(database, FILLED_TAKES);
  const backups = createBackups(database, join(filled, 'backups'), Date.now, () => {});
  if (!(await backups.make())) throw new Error(JSON.stringify(backups.problem()));
  database.close();

  const other = openLibrary(join(root, 'other', 'library.sqlite'));
  const archivedIds = fill(other, ARCHIVED_TAKES);
  const archive = join(root, 'archive.zip');
  await writeArchive(readContents(other), archive, '1.2.3', 1);
  other.close();

  const old = join(root, 'old');
  mkdirSync(old);
  makeOldest(join(old, 'library.sqlite'), join(filled, 'library.sqlite'));

  const damaged = join(root, 'damaged');
  cpSync(filled, damaged, { recursive: true });
  const file = join(damaged, 'library.sqlite');
  writeFileSync(file, readFileSync(file).fill(0xee, 20 * 4096, 30 * 4096));

  const templates: Readonly<Record<Work, string>> = {
    runs: filled,
    play: filled,
    backup: filled,
    export: filled,
    import: filled,
    migrate: old,
    restore: damaged,
  };
  return {
    archive,
    archivedIds,
    folderFor(work) {
      const folder = newFolder();
      cpSync(templates[work], folder, { recursive: true });
      return folder;
    },
  };
}

/** A library of the first schema with the takes of another. */
function makeOldest(file: string, filled: string): void {
  const database = new DatabaseSync(file);
  migrate(database, 0, MIGRATIONS.slice(0, 1));
  database.prepare('ATTACH ? AS filled').run(filled);
  for (const table of ['charts', 'takes', 'take_chunks', 'settings', 'devices']) {
    const columns = database.prepare(`SELECT name FROM pragma_table_info('${table}')`).all();
    const names = columns.map(({ name }) => String(name)).join(', ');
    database.exec(`INSERT INTO main.${table} (${names}) SELECT ${names} FROM filled.${table}`);
  }
  // The first schema knew journalled events only.
  const inflate = database.prepare('UPDATE main.take_chunks SET bytes = ? WHERE take_id = ?');
  const packed = database
    .prepare('SELECT take_id, bytes FROM filled.take_chunks WHERE deflated = 1')
    .all();
  for (const { take_id: takeId, bytes } of packed) {
    if (bytes instanceof Uint8Array) inflate.run(inflateRawSync(bytes), String(takeId));
  }
  database.close();
}
