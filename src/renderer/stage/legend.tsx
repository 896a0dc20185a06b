/** What the marks mean, each beside its word. */

import { createElement } from 'react';
import type { Shape } from '../chart-page/line-shapes.ts';
import { BREAKS, type Break, breakMark, head, stem } from './marks.ts';

const WORDS: Readonly<Record<Break, string>> = {
  gap: 'gap',
  lateChange: 'old palette',
  outside: 'outside',
  interval: 'interval',
  late: 'late',
  early: 'early',
  extra: 'extra',
};

/** Of a mark beside its word. */
const SIZE = 15;
const BOX = 28;

const ENTRIES: readonly { readonly words: string; readonly shapes: readonly Shape[] }[] = [
  { words: 'not judged yet', shapes: [head('stage-note open', BOX / 2, BOX / 2, 6, 4.5)] },
  { words: 'new palette heard', shapes: [stem(BOX / 2, BOX / 2 + 8, 16, false)] },
  ...BREAKS.map((kind) => ({
    words: WORDS[kind],
    shapes: breakMark(kind, BOX / 2, BOX / 2, SIZE),
  })),
];

interface LegendProps {
  /** Beside the totals, where the window is wide enough for it; or over the foot of the page. */
  readonly lies: 'beside' | 'over';
}

export function Legend({ lies }: LegendProps) {
  return (
    <ul className={`stage-legend ${lies}`} aria-label="Marks">
      {ENTRIES.map(({ words, shapes }) => (
        <li key={words}>
          <svg width={BOX} height={BOX} aria-hidden="true">
            {shapes.map(({ element, look, attributes }) =>
              createElement(element, {
                key: `${look} ${JSON.stringify(attributes)}`,
                className: look,
                ...attributes,
              }),
            )}
          </svg>
          {words}
        </li>
      ))}
    </ul>
  );
}
