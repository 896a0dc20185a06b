/** What the ladder asks of charts, read from their texts once and kept, and what the player is after. */

import { expect, test } from 'vitest';
import { createGoalBook } from '../../../src/main/progress/index.ts';
import { createChartOutlines, openLibrary } from '../../../src/main/store/index.ts';

const PIER =
  'title: Pier\nkey: Eb\nmeter: 4/4\ntempo: 80\n| Ebmaj7 | Fm7 |\nplan: side door\n| Ebmaj7 | E7 |\n';
const TIDE = 'title: Tide\nkey: F#m\nmeter: 3/4\n| F#m7 | B7 |\n';

function filled(settings: Record<string, { readonly goalBpm: number }> = {}) {
  const database = openLibrary(':memory:');
  const texts = new Map([
    ['pier', PIER],
    ['tide', TIDE],
    ['torn', 'title: Torn\n| ??? |\n'],
  ]);
  const book = (version = '1.0.0') =>
    createGoalBook({
      charts: () => [...texts].map(([chartId, text]) => ({ chartId, title: chartId, text })),
      settings: () => settings,
      outlinesOf: createChartOutlines(database, version),
    });
  /** Something else is kept of every text than what it says. */
  const keepOther = (outline: string) =>
    database.prepare('UPDATE chart_outlines SET outline = ?').run(outline);
  return { database, texts, book, keepOther };
}

test('a goal is the tempo that the chart names, or none; a chart that cannot be read has none', () => {
  const { book } = filled();
  for (const _time of ['read', 'kept']) {
    const charts = book().ofSession([]);
    expect(charts).toMatchObject([
      { chartId: 'pier', plans: ['side door'], goalBpm: 80 },
      { chartId: 'tide', plans: [], goalBpm: null },
    ]);
    expect(charts.map(({ keys }) => keys[0])).toEqual(['Eb', 'F#m']);
    expect(book().of(['torn', 'gone']).size).toBe(0);
  }
});

test('a goal of the player’s own comes before that of the chart', () => {
  const { book } = filled({ 'practice pier': { goalBpm: 72 } });
  expect(book().of(['pier']).get('pier')).toMatchObject({ goalBpm: 72 });
});

test('what is kept of a text is used by the same program, as long as the text is the same', () => {
  const { texts, book, keepOther } = filled();
  book().ofSession([]);
  keepOther('[["another"],"C",70]');
  const goalOf = (version?: string) => book(version).of(['pier']).get('pier');
  expect(goalOf()).toMatchObject({ plans: ['another'], goalBpm: 70 });
  expect(goalOf('1.0.1')).toMatchObject({ plans: ['side door'], goalBpm: 80 });
  texts.set('pier', PIER.replace('80', '90'));
  expect(goalOf()).toMatchObject({ plans: ['side door'], goalBpm: 90 });
});

test.each(['{', '[]', '[["a"],"H",1]', '[["a"],"C","fast"]'])(
  'a text is read again where what is kept of it is damaged: %s',
  (damaged) => {
    const { book, keepOther } = filled();
    book().ofSession([]);
    keepOther(damaged);
    expect(book().of(['pier']).get('pier')).toMatchObject({ plans: ['side door'] });
  },
);

test('a disk that is full keeps nobody from an answer', () => {
  const { database, book } = filled();
  database.exec('PRAGMA query_only = ON');
  expect(book().of(['pier']).get('pier')).toMatchObject({ goalBpm: 80 });
});
