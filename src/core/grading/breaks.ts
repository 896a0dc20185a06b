/** Which cells of the line a break touches. Source: `grading.md`, "Time and grid", breaks. */

import type { TakeBreak } from '../take/model.ts';
import { RESOLUTION_MS } from './resolution.ts';

/** A closed span of time, ms on the take's clock. */
export interface Span {
  readonly fromMs: number;
  readonly toMs: number;
}

/** Breaks to be asked about, told one by one. */
export interface BreakList {
  readonly isEmpty: boolean;
  add(pause: TakeBreak): void;
  /** Whether any break touches a span; one that only meets its end does. */
  touches(span: Span): boolean;
}

/** Starts with no breaks. They may come in any order and overlap. */
export function createBreakList(): BreakList {
  /** In order and apart, so that the last one that begins in time is the one that reaches furthest. */
  let apart: readonly Span[] = [];
  return {
    get isEmpty() {
      return apart.length === 0;
    },
    add(pause) {
      apart = joined([...apart, pause]);
    },
    touches({ fromMs, toMs }) {
      let low = 0;
      let high = apart.length;
      while (low < high) {
        const middle = (low + high) >> 1;
        const beginsMs = apart[middle]?.fromMs ?? Number.POSITIVE_INFINITY;
        if (beginsMs <= toMs + RESOLUTION_MS) low = middle + 1;
        else high = middle;
      }
      const reaching = apart[low - 1];
      return reaching !== undefined && reaching.toMs >= fromMs - RESOLUTION_MS;
    },
  };
}

function joined(spans: readonly Span[]): readonly Span[] {
  const apart: { fromMs: number; toMs: number }[] = [];
  for (const { fromMs, toMs } of [...spans].sort((a, b) => a.fromMs - b.fromMs)) {
    const last = apart.at(-1);
    if (last !== undefined && fromMs <= last.toMs) last.toMs = Math.max(last.toMs, toMs);
    else apart.push({ fromMs, toMs });
  }
  return apart;
}
