/** When each change of palette showed in the line. Source: `grading.md`, "Changes". */

import type { Arrival } from '../words.ts';
import { type ChangeMasks, changeMasks, chordOf, type GradedLine } from './graded-line.ts';
import { isJudged, keyAt, midiAt, ordinalAt } from './ledger.ts';
import { hasPc } from './palette-view.ts';

/** One chord boundary as the line met it. */
export interface BoundaryArrival {
  /** The arriving chord, counted through all choruses from 0. */
  readonly ordinal: number;
  /** The entry at which the new chord begins. */
  readonly slot: number;
  readonly arrival: Arrival;
  readonly bySlots: number | null;
  readonly earlyBy: number;
  readonly provenAt: number | null;
  /** The first entry among those that decide it which is not judged; null: all are. The rest is told as if it had been empty. */
  readonly unjudgedAt: number | null;
}

export interface ArrivalReader {
  /** Reads the entry just appended to the ledger. */
  read(index: number): void;
  /** What is not settled yet, in order, the change under way as it stands; that is settled by a proof or by the next change. */
  pending(): readonly BoundaryArrival[];
  /** Boundaries that are settled, in order; those that lie within one change's reach follow it. */
  readonly settled: readonly BoundaryArrival[];
}

interface OpenChange extends ChangeMasks {
  readonly ordinal: number;
  readonly slot: number;
  readonly earlyBy: number;
  lastOld: number | null;
  provenAt: number | null;
  unjudgedAt: number | null;
}

/** Starts reading arrivals off a line; `emit` gets each boundary once, when nothing later can change it. */
export function createArrivalReader(
  { course, ledger }: GradedLine,
  emit: (arrival: BoundaryArrival) => void,
): ArrivalReader {
  const settled: BoundaryArrival[] = [];
  /** Whether an empty entry counts as not judged is open until a key comes: the line ends with the last one. */
  const waiting: BoundaryArrival[] = [];
  let ordinal = 0;
  let stretchStart = 0;
  let open: OpenChange | null = null;

  function settle(arrival: BoundaryArrival): void {
    settled.push(arrival);
    emit(arrival);
  }

  /** Settles in order: behind what is waiting. */
  function settleNext(arrival: BoundaryArrival): void {
    if (waiting.length > 0) waiting.push(arrival);
    else settle(arrival);
  }

  function closeOpen(): void {
    if (open !== null && isOpen(open)) settleNext(outcome(open));
    open = null;
  }

  function passBoundary(passed: number, slot: number): void {
    const to = chordOf(course, passed);
    const from = chordOf(course, passed - 1);
    if (to?.boundary === 'unchanged') {
      settleNext({
        ordinal: passed,
        slot,
        arrival: 'unchanged',
        bySlots: null,
        earlyBy: 0,
        provenAt: null,
        unjudgedAt: null,
      });
    }
    if (to?.boundary !== 'change' || !to.palette || !from?.palette) {
      // Without a chord on one side the old change can no longer show.
      if (!to?.palette) closeOpen();
      return;
    }
    closeOpen();
    const masks = changeMasks(from.palette, to.palette);
    const earlyBy = countEarly(slot, masks.newMask);
    const unread = { lastOld: null, provenAt: null, unjudgedAt: null };
    open = { ordinal: passed, slot, earlyBy, ...masks, ...unread };
    stretchStart = slot;
  }

  /** How many entries in a row, ending just before the change, already hold a note of the new palette alone. */
  function countEarly(slot: number, newMask: number): number {
    let count = 0;
    for (let index = slot - 1; index >= stretchStart; index--) {
      const midi = midiAt(ledger, index);
      if (midi === null || !hasPc(newMask, midi % 12)) break;
      count++;
    }
    return count;
  }

  return {
    settled,
    read(index) {
      if (waiting.length > 0 && keyAt(ledger, index) !== null) waiting.splice(0).forEach(settle);
      const reached = ordinalAt(ledger, index);
      while (ordinal < reached) passBoundary(++ordinal, index);
      if (open === null || !isOpen(open)) return;
      if (!isJudged(ledger, index)) {
        open.unjudgedAt = index;
        if (keyAt(ledger, index) === null) waiting.push(outcome(open));
        else settleNext(outcome(open));
        return;
      }
      const midi = midiAt(ledger, index);
      if (midi === null) return;
      if (hasPc(open.newMask, midi % 12)) {
        open.provenAt = index;
        settle(outcome(open));
      } else if (hasPc(open.oldMask, midi % 12)) open.lastOld = index;
    },
    pending: () => [...waiting, ...(open !== null && isOpen(open) ? [outcome(open)] : [])],
  };
}

function isOpen({ provenAt, unjudgedAt }: OpenChange): boolean {
  return provenAt === null && unjudgedAt === null;
}

function outcome(change: OpenChange): BoundaryArrival {
  const { ordinal, slot, earlyBy, lastOld, provenAt, unjudgedAt } = change;
  const arrival = lastOld !== null ? 'late' : provenAt !== null ? 'onTime' : 'unproven';
  const bySlots = lastOld === null ? null : lastOld - slot + 1;
  return { ordinal, slot, arrival, bySlots, earlyBy, provenAt, unjudgedAt };
}
