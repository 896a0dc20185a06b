/** Alternatives by colour. */

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { groupAlternatives, PALETTE_COLOURS } from '../../../src/core/plan/index.ts';
import type { PaletteColour } from '../../../src/core/theory/index.ts';
import { arbitraryChart } from '../../helpers/arbitrary-chart.ts';
import { chartOf, formOf } from '../chart/reading.ts';

test('groups what else would serve a dominant: brighter and darker beside mixolydian, then tension', () => {
  const form = formOf(chartOf('title: a\nkey: C\nmeter: 4/4\n| G7 | Cmaj7 |\n'));
  const groups = groupAlternatives(form.bars[0]?.chords[0]?.alternatives ?? []);
  const named = (colour: PaletteColour) =>
    groups.find((group) => group.colour === colour)?.alternatives.map((one) => one.palette.name);
  // Sharper than mixolydian is brighter, flatter darker: common practice.
  expect(named('brighter')).toContain('lydian dominant');
  expect(named('darker')).toContain('mixolydian b6');
  expect(named('tension')).toContain('altered');
});

test('loses none, adds none, keeps their order and leaves no group empty', () => {
  fc.assert(
    fc.property(arbitraryChart(), (chart) => {
      for (const { chords } of formOf(chart).bars) {
        for (const { alternatives } of chords) {
          const groups = groupAlternatives(alternatives);
          const colours = groups.map(({ colour }) => colour);
          expect(colours).toEqual(PALETTE_COLOURS.filter((one) => colours.includes(one)));
          expect(groups.every((group) => group.alternatives.length > 0)).toBe(true);
          const regrouped = alternatives.toSorted(
            (one, other) =>
              PALETTE_COLOURS.indexOf(one.colour) - PALETTE_COLOURS.indexOf(other.colour),
          );
          expect(groups.flatMap((group) => group.alternatives)).toEqual(regrouped);
        }
      }
    }),
    { numRuns: 30 },
  );
});
