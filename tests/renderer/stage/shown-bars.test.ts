/** Which bars stand on the page while a form is played through: laws over all forms and pages. Own rule. */

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { barShownAt, type ChorusBar } from '../../../src/renderer/stage/shown-bars.ts';

const anyPage = fc
  .record({
    perRow: fc.constantFrom(1, 2, 4),
    rowCount: fc.integer({ min: 1, max: 4 }),
    bars: fc.integer({ min: 1, max: 40 }),
    choruses: fc.option(fc.integer({ min: 1, max: 3 }), { nil: null }),
  })
  .map(({ perRow, rowCount, bars, choruses }) => {
    const formRows = Math.ceil(bars / perRow);
    const isWhole = formRows <= rowCount;
    const page = { perRow, formRows, isWhole, rowCount: isWhole ? formRows : rowCount };
    return { page, form: { bars, choruses } };
  });

type Page = Parameters<typeof barShownAt>[2];
type OfForm = Parameters<typeof barShownAt>[3];

function pageAt(now: ChorusBar & { readonly beat: number }, page: Page, form: OfForm) {
  return Array.from({ length: page.rowCount }, (_, row) =>
    Array.from({ length: page.perRow }, (_, column) =>
      barShownAt({ row, column }, now, page, form),
    ),
  ).flat();
}

/** All moments of three choruses, or of as many as there are: two beats of each bar. */
function* moments({ bars, choruses }: OfForm) {
  for (let chorus = 1; chorus <= (choruses ?? 3); chorus++) {
    for (let barAt = 0; barAt < bars; barAt++) {
      yield { barAt, chorus, beat: 1 };
      yield { barAt, chorus, beat: 4 };
    }
  }
}

const wordOf = (bar: ChorusBar | null): string =>
  bar === null ? '' : `${bar.chorus}:${bar.barAt}`;

test('the bar under way is on the page, and no bar is there twice', () => {
  fc.assert(
    fc.property(anyPage, ({ page, form }) => {
      for (const now of moments(form)) {
        const shown = pageAt(now, page, form).map(wordOf);
        expect(shown).toContain(wordOf(now));
        const filled = shown.filter((word) => word !== '');
        expect(new Set(filled).size).toBe(filled.length);
        const places = pageAt(now, page, form).flatMap((bar) => (bar === null ? [] : [bar.barAt]));
        expect(new Set(places).size).toBe(places.length);
      }
    }),
  );
});

test('a bar never moves while it is to be played: what comes is where it stays', () => {
  fc.assert(
    fc.property(anyPage, ({ page, form }) => {
      const placeOf = new Map<string, number>();
      for (const now of moments(form)) {
        pageAt(now, page, form).forEach((bar, index) => {
          const word = wordOf(bar);
          if (word === '') return;
          expect(placeOf.get(word) ?? index).toBe(index);
          placeOf.set(word, index);
        });
      }
    }),
  );
});

test('the next bar is on the page when a bar is half over, and with two rows or more a bar before', () => {
  fc.assert(
    fc.property(anyPage, ({ page, form }) => {
      const all = [...moments(form)];
      all.forEach((now, index) => {
        const next = all[index + 1];
        const isAlone = page.rowCount * page.perRow === 1;
        if (next === undefined || isAlone || (page.isWhole && next.chorus !== now.chorus)) return;
        if (page.rowCount === 1 && now.beat === 1) return;
        // A last row of one bar: the form begins again in the very place of it.
        if (page.rowCount === 1 && next.barAt === 0 && now.barAt % page.perRow === 0) return;
        expect(pageAt(now, page, form).map(wordOf)).toContain(wordOf(next));
      });
    }),
  );
});

test('with two rows the bar before is there until the one after it is half over', () => {
  const page = { perRow: 4, rowCount: 2, formRows: 8, isWhole: false };
  const form = { bars: 32, choruses: null };
  const shown = pageAt({ barAt: 4, chorus: 1, beat: 1 }, page, form).map((bar) => bar?.barAt);
  // The first place has taken the bar two rows on; the others of that row are still as they were played.
  expect(shown).toEqual([8, 1, 2, 3, 4, 5, 6, 7]);
});
