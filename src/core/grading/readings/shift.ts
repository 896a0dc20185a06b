/** A take moved by slots: what was played in one slot is read as if it had been played in another. */

import { inOrderOfTime } from '../../take/in-order.ts';
import type { TakeEvent, TakeEvents } from '../../take/model.ts';
import type { SlotAxis } from './ground.ts';

export interface SlotShift {
  /** Slots before this one stay; null moves all, those before the first downbeat too. */
  readonly fromSlot: number | null;
  /** Slot s becomes slot s − slots. */
  readonly slots: number;
}

export const NO_SHIFT: SlotShift = { fromSlot: null, slots: 0 };

/** The slot one is read as. */
export function shiftedSlot({ fromSlot, slots }: SlotShift, slot: number): number {
  return fromSlot !== null && slot < fromSlot ? slot : slot - slots;
}

/** From a time to the one it is read as: at the same place between two slots. */
export function timeShift(axis: SlotAxis, shift: SlotShift): (timeMs: number) => number {
  const fromMs = shiftFromMs(axis, shift);
  return (timeMs) => (timeMs < fromMs ? timeMs : movedMs(axis, shift.slots, timeMs));
}

/** The beginning of the cell of the first slot that is moved. */
function shiftFromMs(axis: SlotAxis, { fromSlot }: SlotShift): number {
  if (fromSlot === null) return Number.NEGATIVE_INFINITY;
  return (axis.timeMs(fromSlot - 1) + axis.timeMs(fromSlot)) / 2;
}

function movedMs(axis: SlotAxis, slots: number, timeMs: number): number {
  const slot = axis.slotBefore(timeMs);
  const fromMs = axis.timeMs(slot);
  const toMs = axis.timeMs(slot - slots);
  const share = (axis.timeMs(slot - slots + 1) - toMs) / (axis.timeMs(slot + 1) - fromMs);
  return toMs + (timeMs - fromMs) * share;
}

/**
 * The take with its events moved, in order of time. A key goes up where it would have: moved when its note was. `latencyMs` tells
 * what is taken off an event before its slot is known; it stays in the event's time.
 */
export function shiftTake(
  take: TakeEvents,
  axis: SlotAxis,
  shift: SlotShift,
  latencyMs: (event: TakeEvent) => number,
): TakeEvents {
  const fromMs = shiftFromMs(axis, shift);
  const isHeldMoved: boolean[] = [];
  const events = take.events.map((event): TakeEvent => {
    const lateMs = latencyMs(event);
    const timeMs = event.atMs - lateMs;
    const isDown = event.kind === 'noteOn' && event.velocity > 0;
    let isMoved = timeMs >= fromMs;
    if (isDown) isHeldMoved[event.midi] = isMoved;
    else if ('midi' in event) isMoved = isHeldMoved[event.midi] ?? isMoved;
    return isMoved ? { ...event, atMs: movedMs(axis, shift.slots, timeMs) + lateMs } : event;
  });
  const moveMs = timeShift(axis, shift);
  const inOrder = inOrderOfTime(events);
  return {
    ...take,
    events: inOrder,
    endMs: Math.max(moveMs(take.endMs), inOrder.at(-1)?.atMs ?? 0),
    breaks: take.breaks.map((gap) => {
      const startMs = moveMs(gap.fromMs);
      return { fromMs: startMs, toMs: Math.max(startMs, moveMs(gap.toMs)) };
    }),
  };
}
