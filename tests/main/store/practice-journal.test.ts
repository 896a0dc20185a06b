/** The journal of a library: short facts of takes and remarks on sessions. Own rules. */

import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { LATEST_MS } from '../../../src/core/journal/index.ts';
import {
  createPracticeJournal,
  createTakeStore,
  openLibrary,
} from '../../../src/main/store/index.ts';
import { MIGRATIONS } from '../../../src/main/store/migrations.ts';
import { migrate } from '../../../src/main/store/open-store.ts';
import { SHORT_FACTS } from '../../../src/main/store/practice-journal.ts';
import { eventsOf, FIGURES, newFolder } from '../../helpers/library.ts';
import { setUpFor } from '../../helpers/set-up.ts';

function newLibrary() {
  return openLibrary(join(newFolder(), 'library.sqlite'));
}

describe('takes', () => {
  test('are told in short, oldest first, those begun in the span alone', () => {
    const database = newLibrary();
    const store = createTakeStore(database);
    const part = { ...setUpFor('quay'), key: 'Bb', bars: { from: 3, to: 5 } };
    const points = [{ atMs: 0, atQuarter: 0, msPerQuarter: 500 }];
    const mapped = {
      ...setUpFor(),
      grade: { ...setUpFor().grade, tempo: { kind: 'mapped' as const, points } },
    };
    const late = store.add(part, 3000, eventsOf(1), 10_500, FIGURES);
    const early = store.add(mapped, 2000, eventsOf(2), 9000.5, null);
    store.setNote(early, 'cold');
    store.add(setUpFor(), 1999, eventsOf(3), 8000, null);
    store.add(setUpFor(), 4000, eventsOf(4), 8000, null);
    const facts = { chartTitle: 'Pier', plan: 'plain', level: 'steps' };
    expect(createPracticeJournal(database).takes(2000, 4000)).toEqual({
      takes: [
        {
          ...{ takeId: early, chartId: 'pier', ...facts, key: 'C', tempoBpm: null, bars: null },
          ...{
            startedAtMs: 2000,
            day: 0,
            minute: 0,
            endMs: 9000.5,
            slots: 0,
            clean: 0,
            note: 'cold',
          },
        },
        {
          ...{ takeId: late, chartId: 'quay', ...facts, key: 'Bb', tempoBpm: 60 },
          bars: { from: 3, to: 5 },
          ...{
            startedAtMs: 3000,
            day: 0,
            minute: 0,
            endMs: 10_500,
            slots: 40,
            clean: 37,
            note: '',
          },
        },
      ],
      lastDay: 0,
    });
  });

  test('that were deleted, or begun without a note played, are not among them; unfinished ones are', () => {
    const database = newLibrary();
    const store = createTakeStore(database);
    const journal = createPracticeJournal(database);
    expect(journal.takes(0, LATEST_MS)).toEqual({ takes: [], lastDay: null });
    store.setDeleted(store.add(setUpFor(), 10, eventsOf(1), 500, null), 20);
    store.begin(setUpFor(), 30);
    const cut = store.begin(setUpFor(), 40);
    store.append(cut, 0, eventsOf(1, 2));
    const { takes, lastDay } = journal.takes(0, LATEST_MS);
    expect(takes.map(({ takeId }) => takeId)).toEqual([cut]);
    expect(lastDay).toBe(0);
  });

  test('are read from their index, nothing taken out of the long texts', () => {
    const plan = newLibrary().prepare(`EXPLAIN ${SHORT_FACTS}`).all(0, 1);
    const steps = plan.map((row) => String(row['opcode']));
    expect(steps).toContain('ResultRow');
    // A change of a word in an expression brings these back.
    expect(steps).not.toContain('Function');
  });

  test('with texts that are no JSON keep neither an old library from opening nor the others from being told', () => {
    const database = newLibrary();
    const store = createTakeStore(database);
    database.exec('DROP INDEX takes_for_journal; DROP TABLE session_remarks');
    const ids = [1, 2, 3].map((at) => store.add(setUpFor(), at, eventsOf(at), 500, FIGURES));
    database.prepare("UPDATE takes SET set_up = '{' WHERE take_id = ?").run(ids[0] ?? '');
    database.prepare("UPDATE takes SET figures = '{' WHERE take_id = ?").run(ids[1] ?? '');
    const version = MIGRATIONS.findIndex((step) => step.includes('takes_for_journal'));
    migrate(database, version, MIGRATIONS.slice(0, version + 1));
    const { takes } = createPracticeJournal(database).takes(0, LATEST_MS);
    expect(takes.map(({ takeId, slots }) => [takeId, slots])).toEqual([
      [ids[1], 0],
      [ids[2], 40],
    ]);
  });
});

test('a remark is kept, replaced and taken away', () => {
  const journal = createPracticeJournal(newLibrary());
  journal.setRemark({ atMs: 7.25, text: 'late' });
  journal.setRemark({ atMs: 5, text: 'tired' });
  journal.setRemark({ atMs: 5, text: 'rested' });
  expect(journal.remarks()).toEqual([
    { atMs: 5, day: 0, text: 'rested' },
    { atMs: 7.25, day: 0, text: 'late' },
  ]);
  journal.setRemark({ atMs: 5, text: '' });
  expect(journal.remarks()).toEqual([{ atMs: 7.25, day: 0, text: 'late' }]);
});
