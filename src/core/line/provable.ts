/** Which changes of a form a clean line can show at all. */

import type { Form } from '../chart/index.ts';
import { defaultSlotsPerBeat } from '../grid/index.ts';
import type { Level, SlotsPerBeat } from '../words.ts';
import { blankLine } from './blank-line.ts';
import { outlookOf } from './legal/best-changes.ts';
import type { LineEntry } from './legal/entries.ts';
import { legalGraph } from './legal/graph.ts';
import { MISSED_CHANGE } from './legal/proof.ts';
import { rulesOf } from './legal/rules.ts';
import { type LineWish, RIGHT_HAND_REGISTER } from './wish.ts';

/**
 * Tells of a place (bar of the form and beat, both from 1) whether some line that is clean under the rules of a level proves the
 * change there on time, from whatever key it comes. False where no change is. Tried on the notes from a few before the change to
 * the last before the next one. `slotsPerBeat` is that of the report.
 */
export function provableChanges(
  form: Form,
  level: Exclude<Level, 'free'>,
  slotsPerBeat: SlotsPerBeat,
): (bar: number, beat: number) => boolean {
  const wish: LineWish = {
    ...{ level, style: 'solo', choruses: 2, swing: 1, register: RIGHT_HAND_REGISTER, seed: 0 },
    ...{ density: 0, direction: 0 },
    slotsPerBeat: slotsPerBeat === defaultSlotsPerBeat(form.meter) ? null : slotsPerBeat,
    startMidi: null,
  };
  const blank = blankLine(form, wish, null);
  // Of a line too long to be written nothing is known: its changes count.
  if (!blank.ok) return () => true;
  const { entries, settings } = blank.value;
  const rules = rulesOf(wish, settings);
  const known = new Map<number, boolean>();

  function isProvableFrom(opens: number): boolean {
    const reach = reachOf(entries, opens);
    if (reach.some(({ change }) => change?.newMask === 0)) return false;
    const legal = legalGraph(reach, rules);
    return legal.ok && outlookOf(legal.graph).least < MISSED_CHANGE;
  }

  return (bar, beat) => {
    const opens = entries.findIndex(
      (entry, index) =>
        index > 0 && entry.opensChange && entry.chord.beat === beat && barOf(form, entry) === bar,
    );
    if (opens === -1) return false;
    const isProvable = known.get(opens) ?? isProvableFrom(opens);
    known.set(opens, isProvable);
    return isProvable;
  };
}

function barOf(form: Form, { chord }: LineEntry): number | undefined {
  return form.bars[chord.barIndex]?.bar;
}

/** Notes before a change that bind the one it is reached from: an outside note there needs a way to it. */
const LEAD_IN = 3;

/** A few notes before a change, which have nothing to prove themselves, and those in which the change can be proven. */
function reachOf(entries: readonly LineEntry[], opens: number): readonly LineEntry[] {
  const closes = entries.findIndex((entry, index) => index >= opens && entry.closesChange);
  const from = Math.max(0, opens - LEAD_IN);
  return entries
    .slice(from, closes + 1)
    .map((entry, index) => (from + index < opens ? { ...entry, change: null } : entry));
}
