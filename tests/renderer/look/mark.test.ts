/** Whatever was marked before, the element asked for last has the mark and no other; what was asked for again is left alone. */

import fc from 'fast-check';
import { expect, test } from 'vitest';
import { createMark } from '../../../src/renderer/look/mark.ts';

/** As much of an element as a mark needs. */
class FakeElement {
  readonly classes = new Set<string>();
  changes = 0;
  readonly classList = {
    add: (look: string) => this.change(() => this.classes.add(look)),
    remove: (look: string) => this.change(() => this.classes.delete(look)),
  };
  change(act: () => void): void {
    this.changes++;
    act();
  }
}

test('one is marked at a time, or none', () => {
  const asked = fc.array(fc.constantFrom('a', 'b', 'not there', null), { minLength: 1 });
  fc.assert(
    fc.property(asked, (keys) => {
      const elements = new Map(['a', 'b'].map((key) => [key, new FakeElement()]));
      const mark = createMark(elements as unknown as ReadonlyMap<string, Element>, 'seen');
      for (const key of keys) mark(key);
      const marked = [...elements].filter(([, { classes }]) => classes.has('seen'));
      const last = keys.at(-1);
      expect(marked.map(([key]) => key)).toEqual(last === 'a' || last === 'b' ? [last] : []);
    }),
  );
});

test('what is marked already is left alone', () => {
  const element = new FakeElement();
  const elements = new Map([['a', element]]);
  const mark = createMark(elements as unknown as ReadonlyMap<string, Element>, 'seen');
  mark('a');
  mark('a');
  expect(element.changes).toBe(1);
});
