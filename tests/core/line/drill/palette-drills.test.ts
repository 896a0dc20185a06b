/** Drills that run through the palette, held against their definitions over random charts. */

import { describe, expect, test } from 'vitest';
import { DRILLS, type DrillStyle } from '../../../../src/core/line/index.ts';
import { CASES, forEveryDrill } from './drilled.ts';
import { isInPalette, isTwoWay, keysOf, tonesTo } from './drilling.ts';

const IN_PALETTE = ['continuousScale', 'ascending', 'brokenThirds', 'brokenSevenths'] as const;

describe('drills that run through the palette', () => {
  test.each(IN_PALETTE)('%s has every slot in the palette that sounds there', (style) => {
    forEveryDrill(style, ({ midis, slots }) => {
      expect(midis).toHaveLength(slots.length);
      slots.forEach(({ palette }, slot) => {
        expect(isInPalette(palette, midis[slot] ?? -1)).toBe(true);
      });
    });
  });

  test('continuous scale: every move is to the next tone, and turns only where the register ends', () => {
    forEveryDrill('continuousScale', ({ form, wish, midis, slots }) => {
      if (isTwoWay(form)) return;
      const { lowestMidi, highestMidi } = wish.register;
      let direction = 1;
      slots.forEach(({ palette }, slot) => {
        const keys = keysOf(palette, lowestMidi, highestMidi);
        const before = midis[slot - 1];
        if (before === undefined) {
          expect(midis[slot]).toBe(keys[0]);
          return;
        }
        const up = keys.find((key) => key > before);
        const down = keys.findLast((key) => key < before);
        const onward = direction === 1 ? up : down;
        expect(midis[slot]).toBe(onward ?? (direction === 1 ? down : up));
        direction = Math.sign((midis[slot] ?? 0) - before);
      });
    });
  });

  test('ascending: every move is to the next tone above, or an octave below that where it breaks', () => {
    forEveryDrill('ascending', ({ form, wish, midis, slots }) => {
      if (isTwoWay(form)) return;
      const { lowestMidi, highestMidi } = wish.register;
      // Notes since a break that left room for one more octave; null where none has.
      let part: number | null = null;
      slots.forEach(({ palette }, slot) => {
        const before = midis[slot - 1];
        const midi = midis[slot] ?? -1;
        if (before === undefined) return;
        const next = keysOf(palette, before + 1, before + 12)[0] ?? -1;
        const isDue = part !== null && part >= new Set(palette.pcs).size / 2;
        const isBroken =
          next > highestMidi || (isDue && next - 12 < before && next - 12 >= lowestMidi);
        expect(midi).toBe(isBroken ? next - 12 : next);
        if (isBroken) part = midi - 12 >= lowestMidi ? 1 : null;
        else if (part !== null) part++;
      });
    });
  });

  test('broken thirds: two tones on and one back in turn', () => {
    forEveryDrill('brokenThirds', ({ form, midis, slots }) => {
      if (isTwoWay(form)) return;
      slots.forEach(({ palette }, slot) => {
        const before = midis[slot - 1];
        if (before === undefined) return;
        const tones = tonesTo(palette, before, midis[slot] ?? 0);
        expect(Math.abs(tones)).toBe(slot % 2 === 1 ? 2 : 1);
      });
    });
  });

  test('broken sevenths: every second tone, four of them, then the nearest root with room', () => {
    forEveryDrill('brokenSevenths', ({ form, wish, midis, slots }) => {
      if (isTwoWay(form)) return;
      const hasRoom = (slot: number, root: number): boolean => {
        let midi = root;
        return slots.slice(slot, slot + 4).every(({ palette }, index) => {
          if (index > 0) midi = keysOf(palette, midi + 1, midi + 24)[1] ?? 128;
          return midi <= wish.register.highestMidi;
        });
      };
      slots.forEach(({ palette }, slot) => {
        const midi = midis[slot] ?? -1;
        const before = midis[slot % 4 === 0 ? slot - 4 : slot - 1];
        if (before === undefined) return;
        if (slot % 4 !== 0) {
          expect(tonesTo(palette, before, midi)).toBe(2);
          return;
        }
        expect(midi).not.toBe(before);
        const between = keysOf(palette, Math.min(before, midi) + 1, Math.max(before, midi) - 1);
        expect(between.filter((root) => hasRoom(slot, root))).toEqual([]);
      });
    });
  });

  test('stay at the level they are made for over every palette of seven tones and more', () => {
    let seen = 0;
    for (const { style, level } of DRILLS.filter((drill) => IN_PALETTE.some(isStyle(drill)))) {
      forEveryDrill(style, ({ form, line }) => {
        if (isTwoWay(form)) return;
        // Under `N.C.` the grader has no palette to count steps in.
        const isFull = form.bars.every(({ chords }) =>
          chords.every(({ chosen }) => chosen !== null && chosen.palette.pcs.length >= 7),
        );
        if (!isFull) return;
        seen++;
        expect(line.level).toBe(level);
      });
    }
    // A form with such palettes alone is one in six.
    expect(seen).toBeGreaterThan(CASES / 4);
  });
});

function isStyle({ style }: { readonly style: DrillStyle }): (other: DrillStyle) => boolean {
  return (other) => other === style;
}
