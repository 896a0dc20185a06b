/** One bar's piece of the line on the page. */

import { createElement, memo } from 'react';
import type { BarDrawing } from './line-model.ts';
import { HEIGHT, shapesOf, WIDTH } from './line-shapes.ts';

export const LineInBar = memo(({ drawing }: { readonly drawing: BarDrawing | undefined }) => (
  <svg
    className="bar-line"
    viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
    preserveAspectRatio="none"
    aria-hidden="true"
  >
    {drawing !== undefined &&
      shapesOf(drawing).map(({ element, look, attributes }, place) =>
        createElement(element, { key: place, className: look, ...attributes }),
      )}
  </svg>
));

/** The hatch of an old palette, defined once for a page of bars. */
export function LinePatterns() {
  return (
    <svg width="0" height="0" aria-hidden="true" className="hidden-words">
      <defs>
        <pattern
          id="old-palette"
          width="8"
          height="8"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <line x1="0" y1="0" x2="0" y2="8" stroke="var(--outside)" strokeWidth="2.5" />
        </pattern>
      </defs>
    </svg>
  );
}
