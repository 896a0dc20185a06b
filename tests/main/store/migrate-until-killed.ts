/** Migrates a new file in many heavy steps, until somebody kills it. */

import { DatabaseSync } from 'node:sqlite';
import { migrate } from '../../../src/main/store/open-store.ts';

export const ROWS_PER_STEP = 4000;

export const MIGRATION_STEPS: readonly string[] = Array.from(
  { length: 60 },
  (_, step) =>
    `CREATE TABLE step${step} (row INTEGER, filling TEXT);
     INSERT INTO step${step} WITH RECURSIVE counted (row) AS (
       SELECT 1 UNION ALL SELECT row + 1 FROM counted WHERE row < ${ROWS_PER_STEP}
     ) SELECT row, hex(randomblob(40)) FROM counted;`,
);

if (process.argv[1] === import.meta.filename) {
  const database = new DatabaseSync(process.argv[2] ?? '');
  database.exec('PRAGMA journal_mode = WAL');
  process.stdout.write('migrating\n');
  migrate(database, 0, MIGRATION_STEPS);
}
