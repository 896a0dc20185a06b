/** Whatever was shown before, what is shown is what was asked for last, and what was the same has been left alone. */

import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Shape } from '../../../src/renderer/chart-page/line-shapes.ts';
import { createShapeLayer } from '../../../src/renderer/chart-page/shape-layer.ts';

/** As much of an SVG element as a layer needs. */
class FakeElement {
  readonly name: string;
  readonly attributes = new Map<string, string>();
  readonly children: FakeElement[] = [];
  readonly ownerDocument = { createElementNS: (_space: string, name: string) => this.child(name) };
  changes = 0;
  parent: FakeElement | null = null;
  constructor(name: string) {
    this.name = name;
  }
  child(name: string): FakeElement {
    return new FakeElement(name);
  }
  setAttribute(name: string, value: string): void {
    this.attributes.set(name, value);
    this.changes++;
  }
  append(child: FakeElement): void {
    child.parent = this;
    this.children.push(child);
  }
  remove(): void {
    const siblings = this.parent?.children ?? [];
    siblings.splice(siblings.indexOf(this), 1);
  }
  replaceWith(other: FakeElement): void {
    const siblings = this.parent?.children ?? [];
    other.parent = this.parent;
    siblings.splice(siblings.indexOf(this), 1, other);
  }
}

function emptyPlace(): FakeElement {
  return new FakeElement('svg');
}

const layerOn = (place: FakeElement) => createShapeLayer(place as unknown as SVGElement);

function shapesIn({ children }: FakeElement): readonly Shape[] {
  return children.map(({ name, attributes }) => {
    const { class: look = '', ...others } = Object.fromEntries(attributes);
    return { element: name as Shape['element'], look, attributes: others };
  });
}

const anyShape: fc.Arbitrary<Shape> = fc.oneof(
  fc.record({
    element: fc.constant('path' as const),
    look: fc.constantFrom('note-outside', 'note-timing'),
    attributes: fc.record({ d: fc.constantFrom('M0 0', 'M1 1') }),
  }),
  fc.record({
    element: fc.constant('polyline' as const),
    look: fc.constant('line-stroke'),
    attributes: fc.record({ points: fc.constantFrom('0,0 1,1', '0,0 2,2') }),
  }),
);

test('after any row of drawings the page holds the last one', () => {
  fc.assert(
    fc.property(fc.array(fc.array(anyShape, { maxLength: 6 }), { minLength: 1 }), (drawings) => {
      const place = emptyPlace();
      const layer = layerOn(place);
      for (const shapes of drawings) layer.show(shapes);
      expect(shapesIn(place)).toEqual(drawings.at(-1));
    }),
  );
});

test('a note that is added changes none of those before it; a look that changes is changed alone', () => {
  const place = emptyPlace();
  const layer = layerOn(place);
  const note = (cx: number, look: string): Shape => ({
    element: 'ellipse',
    look,
    attributes: { cx, cy: 1, rx: 4, ry: 4 },
  });
  layer.show([note(1, 'note-clean note-provisional')]);
  const [first] = place.children;
  const made = first?.changes ?? 0;
  layer.show([note(1, 'note-clean note-provisional'), note(2, 'note-clean')]);
  expect(place.children[0]).toBe(first);
  expect(first?.changes).toBe(made);
  layer.show([note(1, 'note-clean'), note(2, 'note-clean')]);
  expect(first?.changes).toBe(made + 1);
});
