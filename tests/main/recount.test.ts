/** The command that counts every take again from its notes. */

import { spawnSync } from 'node:child_process';
import { join } from 'node:path';
import type { DatabaseSync } from 'node:sqlite';
import { expect, test } from 'vitest';
import { lockFolder } from '../../src/main/folder-lock.ts';
import { createTakeStore, openLibrary } from '../../src/main/store/index.ts';
import { gradeStored } from '../../src/main/takes/index.ts';
import { eventsOf, newFolder } from '../helpers/library.ts';
import { setUpFor } from '../helpers/set-up.ts';

const script = join(import.meta.dirname, '..', '..', 'src', 'main', 'recount.ts');

function recount(folder: string) {
  return spawnSync(process.execPath, [script, '--data', folder], { encoding: 'utf8' });
}

const FACTS = `SELECT take_id, slots, clean, day FROM take_facts ORDER BY take_id`;
const factsIn = (database: DatabaseSync) => database.prepare(FACTS).all();

/** Takes with the figures that their notes come to. */
function filled() {
  const folder = newFolder();
  const file = join(folder, 'library.sqlite');
  const database = openLibrary(file);
  const store = createTakeStore(database);
  const ids = [1, 2, 3].map((take) => {
    const [setUp, events, endMs] = [setUpFor(), eventsOf(take, 4), 9000] as const;
    const graded = gradeStored(setUp, { events, endMs, sources: [], breaks: [] }, null);
    return store.add(setUp, take * 1000, events, endMs, graded.figures);
  });
  const before = factsIn(database);
  return { folder, file, database, ids, before };
}

test('figures that are wrong, damaged or gone are made again from the notes', () => {
  const { folder, file, database, ids, before } = filled();
  expect(before).toHaveLength(3);
  const [wrong = '', damaged = '', gone = ''] = ids;
  database
    .prepare("UPDATE takes SET figures = replace(figures, 'slots', 'slot') WHERE take_id = ?")
    .run(wrong);
  database.prepare("UPDATE takes SET evidence = x'00' WHERE take_id = ?").run(damaged);
  database.prepare('UPDATE takes SET figures = NULL, evidence = NULL WHERE take_id = ?').run(gone);
  database.exec('DELETE FROM take_facts');
  database.close();
  const { status, stdout } = recount(folder);
  expect([status, stdout]).toEqual([0, '3 of 3 takes count for progress.\n']);
  expect(factsIn(openLibrary(file))).toEqual(before);
});

test('a take whose notes cannot be read is named and left out; the others count', () => {
  const { folder, file, database, ids, before } = filled();
  database.prepare("UPDATE take_chunks SET bytes = x'00' WHERE take_id = ?").run(ids[1] ?? '');
  database.prepare("UPDATE takes SET evidence = x'00' WHERE take_id = ?").run(ids[1] ?? '');
  database.close();
  const { status, stdout, stderr } = recount(folder);
  expect([status, stdout]).toEqual([3, '2 of 3 takes count for progress.\n']);
  expect(stderr).toContain('The take of 1970-01-01 on Pier does not count');
  const others = before.filter((row) => row['take_id'] !== ids[1]);
  expect(factsIn(openLibrary(file))).toEqual(others);
});

test('a library that is in use is left alone', () => {
  const { folder, database } = filled();
  database.close();
  const lock = lockFolder(folder);
  const { status, stderr } = recount(folder);
  lock?.release();
  expect(status).toBe(3);
  expect(stderr).toContain('Close it, then count again.');
});
