/**
 * When is what heard? Pairs of page time and the time heard are read every few ms; between them runs a line that follows the
 * drift of the two clocks and is not moved by a reading that was taken late. Where sound stood still, or is heard later than
 * before, the line is in doubt until the readings agree on a new one.
 *
 * A time of the page has one time heard, whenever it is asked for: that of the line that was known then. Where a new line
 * goes back, time stands still until it has caught up: what is played later is never earlier.
 */

import { createGate } from './gate.ts';
import { createLineFit } from './line-fit.ts';
import { type ClockLine, heardAt, pageAt, type Reading } from './reading.ts';

/** A span on the clock that is heard, ms. */
export interface HeardSpan {
  readonly fromMs: number;
  readonly toMs: number;
}

export type ClockNews =
  | { readonly kind: 'doubted' }
  /** It was nothing: the readings are again where they were awaited. */
  | { readonly kind: 'cleared' }
  /** The clock was found anew; what was heard in the span is not to be trusted. */
  | { readonly kind: 'jumped'; readonly jumpMs: number; readonly broken: HeardSpan };

export interface SoundClock {
  /** Takes a reading, in order of page time, at a time of the page; tells what it changed. */
  read(reading: Reading, nowMs: number): ClockNews | null;
  /** Tells that sound was seen to stand still, before any reading shows it. */
  doubt(): ClockNews | null;
  /** Whether there has been a reading; without one all times are 0. */
  isKnown(): boolean;
  isDoubted(): boolean;
  /** What is in doubt at a time of the page, from the last good reading on; null where nothing is. */
  doubted(nowMs: number): HeardSpan | null;
  /** The time heard at a time of the page, ms; never goes back. */
  heardMs(pageMs: number): number;
  /** The time of the page at which a time is heard, ms, as the clocks go now. */
  pageMs(heardMs: number): number;
}

/** So many far readings in a row are a doubt: one alone is dropped without a word. */
const DOUBTING = 2;
/** An event may be asked for so long after its time: a page that was blocked hands it over late. */
const REMEMBERED_MS = 10_000;

/** A line from a time of the page on, and the time heard then, under which it does not go. */
interface Stretch {
  readonly fromPageMs: number;
  readonly floorMs: number;
  readonly line: ClockLine;
}

export function createSoundClock(): SoundClock {
  const fit = createLineFit();
  const gate = createGate();
  let stretches: readonly Stretch[] = [];
  let surePageMs = 0;
  let isDoubted = false;

  function heardMs(pageMs: number): number {
    const stretch =
      stretches.findLast(({ fromPageMs }) => fromPageMs <= pageMs) ?? stretches[0] ?? null;
    if (stretch === null) return 0;
    const { fromPageMs, floorMs, line } = stretch;
    const timeMs = heardAt(line, pageMs);
    return pageMs < fromPageMs ? timeMs : Math.max(floorMs, timeMs);
  }

  function follow(line: ClockLine, fromPageMs: number): void {
    const floorMs = stretches.length === 0 ? heardAt(line, fromPageMs) : heardMs(fromPageMs);
    const kept = stretches.findIndex((one) => one.fromPageMs >= fromPageMs - REMEMBERED_MS);
    stretches = [...stretches.slice(Math.max(0, kept)), { fromPageMs, floorMs, line }];
  }

  function doubt(): ClockNews | null {
    if (isDoubted) return null;
    isDoubted = true;
    return { kind: 'doubted' };
  }

  return {
    doubt,
    isKnown: () => stretches.length > 0,
    isDoubted: () => isDoubted,
    doubted: (nowMs) =>
      isDoubted
        ? { fromMs: heardMs(surePageMs), toMs: heardMs(Math.max(surePageMs, nowMs)) }
        : null,
    heardMs,
    pageMs(timeMs) {
      const line = stretches.at(-1)?.line;
      return line === undefined ? 0 : pageAt(line, timeMs);
    },
    read(reading, nowMs) {
      const line = stretches.at(-1)?.line;
      const missMs = line === undefined ? 0 : reading.heardMs - heardAt(line, reading.pageMs);
      const verdict = gate.judge(reading, missMs);
      if (verdict.kind === 'far') return verdict.inARow < DOUBTING ? null : doubt();
      if (verdict.kind === 'near') {
        surePageMs = reading.pageMs;
        follow(fit.add(reading), nowMs);
        if (!isDoubted) return null;
        isDoubted = false;
        return { kind: 'cleared' };
      }
      const { jumpMs, agreed } = verdict;
      const fromMs = heardMs(surePageMs);
      follow(fit.shift(jumpMs, agreed), nowMs);
      surePageMs = reading.pageMs;
      isDoubted = false;
      return { kind: 'jumped', jumpMs, broken: { fromMs, toMs: heardMs(nowMs) } };
    },
  };
}
