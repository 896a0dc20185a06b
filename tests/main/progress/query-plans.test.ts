/** What is asked of progress is found by an index: no question, and no take that is finished, goes through all takes or all bars. */

import { expect, test } from 'vitest';
import { createHistory } from '../../../src/main/progress/history.ts';
import { createTakeStore, openLibrary } from '../../../src/main/store/index.ts';

/** Every statement that is prepared while something is made. */
function statementsOf(make: (database: ReturnType<typeof openLibrary>) => unknown) {
  const database = openLibrary(':memory:');
  const prepare = database.prepare.bind(database);
  const statements: string[] = [];
  database.prepare = (sql) => {
    statements.push(sql);
    return prepare(sql);
  };
  make(database);
  return statements.map((sql) => ({
    sql,
    steps: prepare(`EXPLAIN QUERY PLAN ${sql}`)
      .all()
      .map(({ detail }) => String(detail)),
  }));
}

/** Practices are some hundreds; what an inner question has chosen is gone through once, as are the numbers handed over. */
const FEW = /^SCAN (p|\(subquery-\d+\)|json_each VIRTUAL TABLE INDEX 1:)$/;
/** How many are still to be counted, the next of them, and those that cannot be: few, or asked while takes are counted. */
const COUNTS =
  /^SELECT (count\(\*\) AS takes|take_id) FROM (facts_to_make|take_facts|unread_takes)/;

test.each([
  ['a question', createHistory],
  ['a take that comes, goes or changes', createTakeStore],
] as const)('%s', (_what, make) => {
  const statements = statementsOf(make).filter(({ sql }) => !COUNTS.test(sql));
  expect(statements.length).toBeGreaterThan(10);
  const scans = statements.flatMap(({ sql, steps }) =>
    steps.filter((step) => step.startsWith('SCAN') && !FEW.test(step)).map((step) => [step, sql]),
  );
  expect(scans).toEqual([]);
});
