/** The verdict on each entry of the line, in order, each as soon as nothing later can change it. */

import { type GradedLine, nextPalette, paletteAt } from './graded-line.ts';
import { isApproach, isInside, lookahead, resolvesBySemitone } from './inside.ts';
import { judgeInterval } from './interval.ts';
import {
  addVerdict,
  FAULT_BIT,
  isJudged,
  MARK_BIT,
  midiAt,
  nominalAt,
  onsetAt,
  ordinalAt,
} from './ledger.ts';
import { hasPc, type PaletteView } from './palette-view.ts';
import type { CompleteSettings } from './settings.ts';
import { timingFault } from './timing.ts';

export interface Judge {
  /** Judges every entry of the ledger that is ready. */
  proceed(): void;
  /** Judges the rest: nothing more will come. */
  end(): void;
}

/** Starts judging a line; `emit` gets each index once, in order, when its verdict is settled. */
export function createJudge(
  line: GradedLine,
  settings: CompleteSettings,
  emit: (index: number) => void,
): Judge {
  const { course, places, ledger } = line;
  const lineUpsTaken = new Set<number>();
  let next = 0;

  function judge(index: number): void {
    if (!isJudged(ledger, index)) return;
    const midi = midiAt(ledger, index);
    if (midi === null) {
      addVerdict(ledger, index, FAULT_BIT.gap, 0);
      return;
    }
    const inside = isInside(line, index);
    const upcoming = inside ? null : anticipated(index, midi);
    const approach = !inside && upcoming === null && approaches(index);
    const outside = !inside && upcoming === null && !approach;
    const interval = intervalInto(index, midi, upcoming);
    const lineUp = excusedByLineUp(index, interval === 'third', outside);

    let faults = timingBit(index);
    if (interval !== 'open' && lineUp !== 'interval') faults |= FAULT_BIT.interval;
    if (outside && lineUp !== 'outside') faults |= FAULT_BIT.outside;
    let marks = lineUp === null ? 0 : MARK_BIT.lineUp;
    if (upcoming !== null) marks |= MARK_BIT.anticipation;
    if (approach) marks |= MARK_BIT.approach;
    addVerdict(ledger, index, faults, marks);
  }

  function timingBit(index: number): number {
    const toleranceMs = places.toleranceMs(index);
    if (toleranceMs === null) return 0;
    const fault = timingFault(onsetAt(ledger, index) - nominalAt(ledger, index), toleranceMs);
    return fault === null ? 0 : FAULT_BIT[fault];
  }

  function intervalInto(index: number, midi: number, upcoming: PaletteView | null) {
    const before = midiAt(ledger, index - 1);
    if (before === null) return 'open';
    const palette = upcoming ?? paletteAt(line, index);
    return judgeInterval(before, midi, palette, settings.level, settings.repeats);
  }

  /** The palette of the next change when the note may belong to it already, else null. */
  function anticipated(index: number, midi: number): PaletteView | null {
    if (settings.anticipation === 'flag' || !places.beforeChange(index)) return null;
    const upcoming = nextPalette(course, ordinalAt(ledger, index));
    return upcoming !== null && hasPc(upcoming.mask, midi % 12) ? upcoming : null;
  }

  function approaches(index: number): boolean {
    return settings.approach === 'allow' && isApproach(line, index);
  }

  /**
   * One allowance excuses one thing. The interval comes first: it is what the allowance is named after. Of a note that is a
   * third away and outside as well, `outside` stays.
   */
  function excusedByLineUp(
    index: number,
    isThird: boolean,
    outside: boolean,
  ): 'interval' | 'outside' | null {
    if (settings.lineUp === 'flag') return null;
    if (isThird) return takeLineUp(index) ? 'interval' : null;
    const needsIt = outside && resolvesBySemitone(line, index);
    return needsIt && takeLineUp(index) ? 'outside' : null;
  }

  /** Takes the line-up allowance of a change this entry stands next to, the earlier change first. */
  function takeLineUp(index: number): boolean {
    const since = places.sinceChange(index);
    const changes: number[] = [];
    if (since === 0 || since === 1) changes.push(index - since);
    if (places.beforeChange(index)) changes.push(index + 1);
    const free = changes.find((change) => !lineUpsTaken.has(change));
    if (free === undefined) return false;
    lineUpsTaken.add(free);
    return true;
  }

  function settle(): void {
    judge(next);
    emit(next++);
  }

  return {
    proceed() {
      while (next < ledger.length && next + lookahead(line, next) < ledger.length) settle();
    },
    end() {
      while (next < ledger.length) settle();
    },
  };
}
