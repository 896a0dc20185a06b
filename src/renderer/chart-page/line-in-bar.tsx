/** One bar's piece of the line on the page: drawn once, or while it is played. */

import { createElement, memo, useLayoutEffect, useRef } from 'react';
import type { BarDrawings } from './bar-drawings.ts';
import type { BarDrawing } from './line-model.ts';
import { HEIGHT, shapesOf, WIDTH } from './line-shapes.ts';
import { createShapeLayer } from './shape-layer.ts';

const FRAME = {
  className: 'bar-line',
  viewBox: `0 0 ${WIDTH} ${HEIGHT}`,
  preserveAspectRatio: 'none',
} as const;

export const LineInBar = memo(({ drawing }: { readonly drawing: BarDrawing | undefined }) => (
  <svg {...FRAME} aria-hidden="true">
    {drawing !== undefined &&
      shapesOf(drawing).map(({ element, look, attributes }, place) =>
        createElement(element, { key: place, className: look, ...attributes }),
      )}
  </svg>
));

/** How far marks may reach beyond the drawing. */
const REACH = 20;

/**
 * The line in one bar while it is played. Its shapes are put on the page by hand: a key has one frame of the display for all that
 * follows it, and comparing elements would take a good part of that.
 */
export const LiveBar = memo(({ bar, of }: { readonly bar: number; readonly of: BarDrawings }) => {
  const place = useRef<SVGGElement>(null);
  useLayoutEffect(() => {
    if (place.current === null) return;
    const layer = createShapeLayer(place.current);
    const draw = (): void => {
      const drawing = of.of(bar);
      layer.show(drawing === undefined ? [] : shapesOf(drawing));
    };
    draw();
    const ignore = of.watch(bar, draw);
    return () => {
      ignore();
      layer.show([]);
    };
  }, [bar, of]);
  return (
    <svg {...FRAME} aria-hidden="true">
      {/* Whatever is drawn on it, the drawing stays as large: grown, it would have the layers of the whole page laid anew. */}
      <rect
        className="line-ground"
        x={-REACH}
        y={-REACH}
        width={WIDTH + 2 * REACH}
        height={HEIGHT + 2 * REACH}
      />
      <g ref={place} />
    </svg>
  );
});

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
