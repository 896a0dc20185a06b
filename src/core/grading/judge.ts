/** The verdict on each entry of the line, in order, each as soon as nothing later can change it. */

import type { Course } from './course.ts';
import { chordAt, isApproach, isInside, lookahead, resolvesBySemitone } from './inside.ts';
import { judgeInterval } from './interval.ts';
import { FAULT_BIT, type Ledger, MARK_BIT, NO_NOTE } from './ledger.ts';
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

  function judge(index: number): void {
    const midi = ledger.midi[index] ?? NO_NOTE;
    if (midi === NO_NOTE) {
      addFault(index, FAULT_BIT.gap);
      return;
    }
    judgeTiming(index);
    const palette = belongsTo(index, midi);
    const outside = palette === 'outside';
    const before = ledger.midi[index - 1] ?? NO_NOTE;
    const interval =
      before === NO_NOTE
        ? 'open'
        : judgeInterval(
            before,
            midi,
            outside ? paletteAt(index) : palette,
            settings.level,
            settings.repeats,
          );
    // The interval comes first: it is what the allowance is named after, and it can be used but once.
    const excused =
      interval === 'third' || (outside && resolvesBySemitone(course, ledger, index))
        ? takeLineUp(index)
        : false;
    if (excused) ledger.marks[index] = (ledger.marks[index] ?? 0) | MARK_BIT.lineUp;
    const intervalExcused = excused && interval === 'third';
    if (interval !== 'open' && !intervalExcused) addFault(index, FAULT_BIT.interval);
    if (outside && (!excused || intervalExcused)) addFault(index, FAULT_BIT.outside);
  }

  function judgeTiming(index: number): void {
    const toleranceMs = ledger.toleranceMs[index] ?? -1;
    if (toleranceMs < 0) return;
    const deviationMs = (ledger.onsetMs[index] ?? 0) - (ledger.nominalMs[index] ?? 0);
    const fault = timingFault(deviationMs, toleranceMs);
    if (fault !== null) addFault(index, FAULT_BIT[fault]);
  }

  /** The palette a note counts to, after anticipations and approaches; `outside` when nothing excuses it. */
  function belongsTo(index: number, midi: number): PaletteView | null | 'outside' {
    if (isInside(course, ledger, index)) return paletteAt(index);
    const upcoming = ledger.beforeChange[index] ? nextPalette(index) : null;
    if (settings.anticipation === 'allow' && upcoming && hasPc(upcoming.mask, midi % 12)) {
      ledger.marks[index] = (ledger.marks[index] ?? 0) | MARK_BIT.anticipation;
      return upcoming;
    }
    if (settings.approach === 'allow' && isApproach(course, ledger, index)) {
      ledger.marks[index] = (ledger.marks[index] ?? 0) | MARK_BIT.approach;
      return paletteAt(index);
    }
    return 'outside';
  }

  function paletteAt(index: number): PaletteView | null {
    return chordAt(course, ledger.ordinal[index] ?? 0)?.palette ?? null;
  }

  /** The palette of the next change, which begins with the next chord that is one. */
  function nextPalette(index: number): PaletteView | null {
    const ordinal = ledger.ordinal[index] ?? 0;
    for (let ahead = 1; ahead <= course.chords.length; ahead++) {
      const chord = chordAt(course, ordinal + ahead);
      if (chord?.boundary === 'change') return chord.palette;
    }
    return null;
  }

  /** Takes the line-up allowance of a change this entry stands next to, the earlier change first. */
  function takeLineUp(index: number): boolean {
    if (settings.lineUp === 'flag') return false;
    const since = ledger.sinceChange[index] ?? -1;
    const changes: number[] = [];
    if (since === 0 || since === 1) changes.push(index - since);
    if (ledger.beforeChange[index]) changes.push(index + 1);
    const free = changes.find((change) => !lineUpsTaken.has(change));
    if (free === undefined) return false;
    lineUpsTaken.add(free);
    return true;
  }

  function addFault(index: number, bit: number): void {
    ledger.faults[index] = (ledger.faults[index] ?? 0) | bit;
  }

  function settle(): void {
    judge(next);
    emit(next);
    next++;
  }

  return {
    proceed() {
      while (
        next < ledger.midi.length &&
        next + lookahead(course, ledger, next) < ledger.midi.length
      ) {
        settle();
      }
    },
    end() {
      while (next < ledger.midi.length) settle();
    },
  };
}
