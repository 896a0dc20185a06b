/** Puts shapes into an SVG element of the page and, when they are others, changes what is different about them alone. */

import type { Shape } from './line-shapes.ts';

const SVG = 'http://www.w3.org/2000/svg';

export interface ShapeLayer {
  /** Shows these in place of those before. */
  show(shapes: readonly Shape[]): void;
}

/** Makes a layer of an element that is empty and that nobody else touches. */
export function createShapeLayer(place: SVGElement): ShapeLayer {
  const drawn: { readonly node: SVGElement; shape: Shape }[] = [];
  const { ownerDocument } = place;

  function made(shape: Shape): SVGElement {
    const node = ownerDocument.createElementNS(SVG, shape.element);
    node.setAttribute('class', shape.look);
    for (const [name, value] of Object.entries(shape.attributes)) {
      node.setAttribute(name, String(value));
    }
    return node;
  }

  return {
    show(shapes) {
      for (const { node } of drawn.splice(shapes.length)) node.remove();
      shapes.forEach((shape, index) => {
        const before = drawn[index];
        if (before === undefined) {
          const node = made(shape);
          place.append(node);
          drawn.push({ node, shape });
        } else if (before.shape.element !== shape.element) {
          const node = made(shape);
          before.node.replaceWith(node);
          drawn[index] = { node, shape };
        } else {
          change(before.node, before.shape, shape);
          before.shape = shape;
        }
      });
    },
  };
}

/** Elements of one kind have the same attributes. */
function change(node: SVGElement, before: Shape, shape: Shape): void {
  if (before.look !== shape.look) node.setAttribute('class', shape.look);
  for (const [name, value] of Object.entries(shape.attributes)) {
    if (before.attributes[name] !== value) node.setAttribute(name, String(value));
  }
}
