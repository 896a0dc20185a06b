/**
 * The stage at every size of window and distance: what is read is large enough, what belongs on it has its place in the window,
 * and a form that can be whole is. Source of the shares: `distance.ts`.
 */

import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  farPx,
  LEGIBLE,
  SANS_CAPITAL_EM,
  SERIF_CAPITAL_EM,
} from '../../../src/renderer/stage/distance.ts';
import { stageLayout } from '../../../src/renderer/stage/layout.ts';
import { runs } from '../../helpers/runs.ts';

const EIGHT = { bars: 8, beats: 4, slotsPerBeat: 2, chordEm: 2.6 };

const anyRoom = fc.record({
  width: fc.integer({ min: 700, max: 2560 }),
  height: fc.integer({ min: 500, max: 1440 }),
  distanceM: fc.double({ min: 0.5, max: 3, noNaN: true }),
});
const anyForm = fc.record({
  bars: fc.integer({ min: 1, max: 200 }),
  beats: fc.integer({ min: 2, max: 7 }),
  slotsPerBeat: fc.integer({ min: 1, max: 4 }),
  chordEm: fc.double({ min: 0.6, max: 5, noNaN: true }),
});

test('whatever the window, capitals and marks are as high as the distance asks', () => {
  fc.assert(
    fc.property(anyRoom, anyForm, (room, form) => {
      const layout = stageLayout(room, form);
      const least = (share: number): number => farPx(room.distanceM, share) - 1e-6;
      expect(layout.great * SERIF_CAPITAL_EM).toBeGreaterThanOrEqual(least(LEGIBLE.great));
      expect(layout.next * SERIF_CAPITAL_EM).toBeGreaterThanOrEqual(least(LEGIBLE.next));
      expect(layout.count * SANS_CAPITAL_EM).toBeGreaterThanOrEqual(least(LEGIBLE.count));
      expect(layout.root * SERIF_CAPITAL_EM).toBeGreaterThanOrEqual(least(LEGIBLE.name));
      expect(layout.total * SANS_CAPITAL_EM).toBeGreaterThanOrEqual(least(LEGIBLE.total));
      expect(layout.mark).toBeGreaterThanOrEqual(least(LEGIBLE.mark));
    }),
    { numRuns: runs(2000, 200) },
  );
});

test('at a metre everything has its place in every window, one under the other', () => {
  const room = fc.record({
    width: fc.integer({ min: 700, max: 2560 }),
    height: fc.integer({ min: 500, max: 1440 }),
  });
  fc.assert(
    fc.property(room, fc.integer({ min: 1, max: 64 }), ({ width, height }, bars) => {
      const layout = stageLayout({ width, height, distanceM: 1 }, { ...EIGHT, bars });
      const { head, panel, rows, map, foot, page } = layout;
      expect(head + panel + rows + map + foot).toBeCloseTo(height, 6);
      const { rowCount, row, gap } = page;
      expect(rowCount * row + (rowCount - 1) * gap).toBeLessThanOrEqual(rows + 1e-6);
      // A bar has room for its chords and, under them, for marks on the line.
      expect(row).toBeGreaterThan(layout.root * 1.14 + layout.mark * 2);
      expect(page.perRow * page.bar).toBeCloseTo(layout.width, 6);
      if (layout.keys !== null) {
        expect(layout.keys.at + layout.keys.width).toBeLessThanOrEqual(layout.width + 1e-6);
        expect(layout.nextAt).toBeLessThan(layout.keys.at);
      }
    }),
    { numRuns: runs(2000, 200) },
  );
});

test.each([
  [1280, 800, 8, true, 4],
  [1280, 800, 12, true, 4],
  [1280, 800, 32, false, 4],
  [1920, 1080, 12, true, 4],
  [2560, 1440, 16, true, 4],
  [700, 500, 8, false, 2],
])('%i × %i shows %i bars whole: %s, %i in a row', (width, height, bars, isWhole, perRow) => {
  const { page } = stageLayout({ width, height, distanceM: 1 }, { ...EIGHT, bars });
  expect([page.isWhole, page.perRow]).toEqual([isWhole, perRow]);
});

test('farther away there are fewer rows or fewer bars in one, never smaller ones', () => {
  const room = { width: 1280, height: 800 };
  const form = { ...EIGHT, bars: 32 };
  const near = stageLayout({ ...room, distanceM: 0.5 }, form);
  const far = stageLayout({ ...room, distanceM: 2 }, form);
  expect(far.root).toBeGreaterThan(near.root);
  expect(far.page.rowCount * far.page.perRow).toBeLessThan(near.page.rowCount * near.page.perRow);
});
