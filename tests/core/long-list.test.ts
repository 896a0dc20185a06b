/** The list in pieces. Oracle: an array, which does the same at other costs. */

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createLongList, PIECE_ITEMS } from '../../src/core/long-list.ts';

const START = PIECE_ITEMS * 2 - 3;

test('it does what an array does, about the ends of its pieces too', () => {
  const edge = fc.integer({ min: -4, max: 4 });
  const place = fc.oneof(
    fc.tuple(fc.integer({ min: 0, max: 3 }), edge).map(([piece, by]) => piece * PIECE_ITEMS + by),
    fc.nat(START),
  );
  const deed = fc.record({
    kind: fc.constantFrom('push', 'insert', 'set', 'slice'),
    at: place,
    to: place,
  });
  fc.assert(
    fc.property(fc.array(deed, { maxLength: 30 }), fc.boolean(), (deeds, isEmpty) => {
      const list = createLongList<number>();
      const array: number[] = [];
      for (let item = 0; !isEmpty && item < START; item++) {
        list.push(item);
        array.push(item);
      }
      deeds.forEach(({ kind, at, to }, index) => {
        const within = Math.max(0, Math.min(at, array.length));
        const item = -index;
        if (kind === 'push') {
          list.push(item);
          array.push(item);
        } else if (kind === 'insert') {
          list.insert(within, item);
          array.splice(within, 0, item);
        } else if (kind === 'set' && within < array.length) {
          list.set(within, item);
          array[within] = item;
        } else if (kind === 'slice') {
          const end = Math.max(within, Math.min(to, array.length));
          expect(list.slice(within, end)).toEqual(array.slice(within, end));
        }
        expect(list.at(within)).toBe(array[within]);
      });
      expect(list.length).toBe(array.length);
      expect(list.slice()).toEqual(array);
    }),
    { numRuns: 60 },
  );
});
