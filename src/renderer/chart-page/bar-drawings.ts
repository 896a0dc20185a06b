/** The drawings of a page's bars, each bar listening to its own: of a page of many, one is drawn when one has changed. */

import type { BarDrawing } from './line-model.ts';
import type { Drawings } from './live-drawing.ts';

export interface BarDrawings {
  /** Shows these drawings, by bar, in place of those before. */
  show(drawings: Drawings): void;
  of(bar: number): BarDrawing | undefined;
  /** Calls back when the drawing of a bar has changed, until what it gives is called. */
  watch(bar: number, onChange: () => void): () => void;
}

/** Makes a page's drawings, at first without any. */
export function createBarDrawings(): BarDrawings {
  let shown: Drawings = new Map();
  const watchers = new Map<number, () => void>();
  return {
    show(drawings) {
      const before = shown;
      shown = drawings;
      for (const [bar, onChange] of watchers) {
        if (before.get(bar) !== drawings.get(bar)) onChange();
      }
    },
    of: (bar) => shown.get(bar),
    watch(bar, onChange) {
      watchers.set(bar, onChange);
      return () => watchers.delete(bar);
    },
  };
}
