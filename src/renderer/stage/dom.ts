/** Elements made by hand, for what is drawn while a line is played. */

import type { Shape } from '../chart-page/line-shapes.ts';

const SVG = 'http://www.w3.org/2000/svg';

export function make(look: string, ...children: readonly (Node | string)[]): HTMLElement {
  const element = document.createElement('div');
  element.className = look;
  element.append(...children);
  return element;
}

export function span(look: string, ...children: readonly (Node | string)[]): HTMLElement {
  const element = document.createElement('span');
  if (look !== '') element.className = look;
  element.append(...children);
  return element;
}

type Attributes = Readonly<Record<string, string | number>>;

export function svg(
  name: string,
  attributes: Attributes,
  ...children: readonly (Node | string)[]
): SVGElement {
  const element = document.createElementNS(SVG, name);
  for (const [key, value] of Object.entries(attributes)) element.setAttribute(key, String(value));
  element.append(...children);
  return element;
}

export const shapeElement = ({ element, look, attributes }: Shape): SVGElement =>
  svg(element, { class: look, ...attributes });

/** Puts an element's box where it belongs, px. */
export function place(
  element: HTMLElement,
  box: {
    readonly left?: number;
    readonly top?: number;
    readonly width?: number;
    readonly height?: number;
  },
): void {
  for (const [side, px] of Object.entries(box)) element.style.setProperty(side, `${px}px`);
}
