/** What a start ahead of the chart leaves out. */

import type { Form } from '../../chart/model.ts';
import type { TakeBreak, TakeEvents } from '../../take/model.ts';
import type { GradeSettings } from '../settings.ts';
import { keyboardsOf, slotAxis } from './ground.ts';
import type { StartReading } from './model.ts';
import { onsetsOf } from './split-guess.ts';

/** How far before the next cell a span ends: it must not touch it. */
const APART_MS = 1;

/**
 * The slots before the first note of a take that began ahead of the chart, as a span that is not judged: as slots before a late
 * entry are not. None where something was played there, in the count-in, and none at `free`, where no slot is owed.
 */
export function unjudgedBefore(
  form: Form,
  moved: TakeEvents,
  settings: GradeSettings,
  { value }: Pick<StartReading, 'value'>,
): readonly TakeBreak[] {
  if (value >= 0 || settings.level === 'free') return [];
  const axis = slotAxis(form, settings);
  const cellStartMs = (slot: number): number => (axis.timeMs(slot - 1) + axis.timeMs(slot)) / 2;
  const onsets = onsetsOf(moved.events, keyboardsOf(moved, settings).latencyMs);
  const first = onsets.find(({ atMs }) => atMs >= cellStartMs(0));
  let firstSlot = 0;
  while (firstSlot < -value && (first === undefined || first.atMs >= cellStartMs(firstSlot + 1))) {
    firstSlot++;
  }
  if (firstSlot === 0) return [];
  return [{ fromMs: cellStartMs(0), toMs: cellStartMs(firstSlot) - APART_MS }];
}
