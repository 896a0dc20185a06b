/** What the ladder asks of charts, read from their texts once and kept for the next start. */

import { describe, expect, test } from 'vitest';
import { createGoalBook } from '../../../src/main/progress/index.ts';
import { restNow } from '../../../src/main/progress/rest.ts';
import { createChartOutlines, openLibrary } from '../../../src/main/store/index.ts';

const PIER =
  'title: Pier\nkey: Eb\nmeter: 4/4\ntempo: 80\n| Ebmaj7 | Fm7 |\nplan: side door\n| Ebmaj7 | E7 |\n';
const TIDE = 'title: Tide\nkey: F#m\nmeter: 3/4\n| F#m7 | B7 |\n';

function filled() {
  const outlines = createChartOutlines(openLibrary(':memory:'));
  const texts = new Map([
    ['pier', PIER],
    ['tide', TIDE],
    ['torn', 'title: Torn\n| ??? |\n'],
  ]);
  const book = (version = '1.0.0') =>
    createGoalBook({
      charts: () => [...texts].map(([chartId, text]) => ({ chartId, title: chartId, text })),
      settings: () => ({}),
      outlines,
      version,
    });
  /** A start of the program: reads ahead. */
  const start = (version?: string) => book(version).readAhead(new Map(), restNow);
  return { outlines, texts, book, start };
}

describe('what is kept of chart texts', () => {
  test('says what the texts say', async () => {
    const { outlines, book, start } = filled();
    const read = book().ofSession(new Map());
    expect(read).toMatchObject([
      { chartId: 'pier', plans: ['side door'], goalBpm: 80 },
      { chartId: 'tide', plans: [], goalBpm: null },
    ]);
    expect(read.map(({ keys }) => keys[0])).toEqual(['Eb', 'F#m']);
    await start();
    expect(outlines.all().size).toBe(2);
    expect(book().ofSession(new Map())).toEqual(read);
  });

  test('is used by the next start of the same program, as long as the text is the same', async () => {
    const { outlines, texts, book, start } = filled();
    await start();
    const others = [...outlines.all().keys()].map((sum) => [sum, '[["another"],"C",70]'] as const);
    outlines.keep(new Map(others));
    const goalOf = (version?: string) => book(version).goals()('pier');
    expect(goalOf()).toMatchObject({ plans: ['another'], goalBpm: 70 });
    expect(goalOf('1.0.1')).toMatchObject({ plans: ['side door'], goalBpm: 80 });
    texts.set('pier', PIER.replace('80', '90'));
    expect(goalOf()).toMatchObject({ plans: ['side door'], goalBpm: 90 });
  });

  test('is what there is now: of texts that are gone nothing stays', async () => {
    const { outlines, texts, start } = filled();
    await start();
    const before = [...outlines.all().keys()];
    texts.set('pier', PIER.replace('80', '90'));
    await start();
    const now = [...outlines.all().keys()];
    expect(now).toHaveLength(2);
    expect(now.filter((sum) => before.includes(sum))).toHaveLength(1);
  });

  test.each(['{', '[]', '[["a"],"H",1]', '[["a"],"C","fast"]'])(
    'is read again where it is damaged: %s',
    async (damaged) => {
      const { outlines, book, start } = filled();
      await start();
      outlines.keep(new Map([...outlines.all().keys()].map((sum) => [sum, damaged])));
      expect(book().goals()('pier')).toMatchObject({ plans: ['side door'] });
    },
  );
});
