/** What the ladder asks of charts: their plans, keys and tempos, and what the player is after. */

import { expect, test } from 'vitest';
import { createGoalBook } from '../../../src/main/progress/index.ts';

const PIER =
  'title: Pier\nkey: Eb\nmeter: 4/4\ntempo: 80\n| Ebmaj7 | Fm7 |\nplan: side door\n| Ebmaj7 | E7 |\n';
const TIDE = 'title: Tide\nkey: F#m\nmeter: 3/4\n| F#m7 | B7 |\n';

const TEXTS = new Map([
  ['pier', PIER],
  ['tide', TIDE],
  ['torn', 'title: Torn\n| ??? |\n'],
]);
const bookOf = (settings: Record<string, { readonly goalBpm: number }> = {}) =>
  createGoalBook({
    charts: () => [...TEXTS].map(([chartId, text]) => ({ chartId, title: chartId, text })),
    settings: () => settings,
  });

test('a goal is the tempo that the chart names, or none; a chart that cannot be read has none', () => {
  const charts = bookOf().ofSession([]);
  expect(charts).toMatchObject([
    { chartId: 'pier', plans: ['side door'], goalBpm: 80 },
    { chartId: 'tide', plans: [], goalBpm: null },
  ]);
  expect(charts.map(({ keys }) => keys[0])).toEqual(['Eb', 'F#m']);
  expect(bookOf().goals()('torn')).toBeNull();
});

test('a goal of the player’s own comes before that of the chart', () => {
  const goalOf = bookOf({ 'practice pier': { goalBpm: 72 } }).goals();
  expect(goalOf('pier')).toMatchObject({ goalBpm: 72 });
});
