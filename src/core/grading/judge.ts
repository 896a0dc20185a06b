/** The verdict on each entry of the line, in order, each as soon as nothing later can change it. */

import type { Course } from './course.ts';
import {
  chordAt,
  isApproach,
  isInside,
  lookahead,
  paletteAt,
  resolvesBySemitone,
} from './inside.ts';
import { judgeInterval } from './interval.ts';
import { FAULT_BIT, type Ledger, MARK_BIT, midiAt } from './ledger.ts';
import type { LineEntry } from './line-entry.ts';
import { hasPc, type PaletteView } from './palette-view.ts';
import type { CompleteSettings } from './settings.ts';
import { timingFault } from './timing.ts';

export interface Judge {
  /** Judges every entry of the ledger that is ready. */
  proceed(): void;
  /** Judges the rest: nothing more will come. */
  end(): void;
}

/** Starts judging a ledger; `emit` gets each index once, in order, when its verdict is settled. */
export function createJudge(
  course: Course,
  ledger: Ledger,
  settings: CompleteSettings,
  emit: (index: number) => void,
): Judge {
  let next = 0;
  const lineUpsTaken = new Set<number>();

  function judge(entry: LineEntry): void {
    const { index, strike } = entry;
    if (strike === null) {
      entry.faults |= FAULT_BIT.gap;
      return;
    }
    if (entry.toleranceMs !== null) {
      const timing = timingFault(strike.onsetMs - entry.nominalMs, entry.toleranceMs);
      if (timing !== null) entry.faults |= FAULT_BIT[timing];
    }
    const inside = isInside(course, ledger, index);
    const upcoming = inside ? null : anticipated(entry, strike.midi);
    const outside = !inside && upcoming === null && !approaches(entry);
    const before = midiAt(ledger, index - 1);
    const interval =
      before === null
        ? 'open'
        : judgeInterval(
            before,
            strike.midi,
            upcoming ?? paletteAt(course, ledger, index),
            settings.level,
            settings.repeats,
          );
    // The interval comes first: it is what the allowance is named after, and it can be used but once.
    const lineUp =
      interval === 'third' && takeLineUp(entry)
        ? 'interval'
        : interval !== 'third' &&
            outside &&
            resolvesBySemitone(course, ledger, index) &&
            takeLineUp(entry)
          ? 'outside'
          : null;
    if (lineUp !== null) entry.marks |= MARK_BIT.lineUp;
    if (interval !== 'open' && lineUp !== 'interval') entry.faults |= FAULT_BIT.interval;
    if (outside && lineUp !== 'outside') entry.faults |= FAULT_BIT.outside;
  }

  /** The palette of the next change when the note may belong to it already, else null. */
  function anticipated(entry: LineEntry, midi: number): PaletteView | null {
    if (settings.anticipation === 'flag' || !entry.beforeChange) return null;
    const upcoming = nextPalette(entry.ordinal);
    if (upcoming === null || !hasPc(upcoming.mask, midi % 12)) return null;
    entry.marks |= MARK_BIT.anticipation;
    return upcoming;
  }

  function approaches(entry: LineEntry): boolean {
    if (settings.approach === 'flag' || !isApproach(course, ledger, entry.index)) return false;
    entry.marks |= MARK_BIT.approach;
    return true;
  }

  function nextPalette(ordinal: number): PaletteView | null {
    for (let ahead = 1; ahead <= course.chords.length; ahead++) {
      const chord = chordAt(course, ordinal + ahead);
      if (chord?.boundary === 'change') return chord.palette;
    }
    return null;
  }

  /** Takes the line-up allowance of a change this entry stands next to, the earlier change first. */
  function takeLineUp({ index, sinceChange, beforeChange }: LineEntry): boolean {
    if (settings.lineUp === 'flag') return false;
    const changes: number[] = [];
    if (sinceChange === 0 || sinceChange === 1) changes.push(index - sinceChange);
    if (beforeChange) changes.push(index + 1);
    const free = changes.find((change) => !lineUpsTaken.has(change));
    if (free === undefined) return false;
    lineUpsTaken.add(free);
    return true;
  }

  function settleWhile(isReady: (index: number) => boolean): void {
    for (let entry = ledger.entries[next]; entry && isReady(next); entry = ledger.entries[next]) {
      judge(entry);
      emit(next++);
    }
  }

  return {
    proceed() {
      settleWhile((index) => index + lookahead(course, ledger, index) < ledger.entries.length);
    },
    end() {
      settleWhile(() => true);
    },
  };
}
