/**
 * When a verdict is told while the take goes on: as soon as nothing later can change it, and no sooner. A slot is
 * filled when the cell of the next one is over; an outside note waits for what may excuse it, three notes at most.
 */

import { describe, expect, test } from 'vitest';
import type { Form } from '../../../src/core/chart/model.ts';
import {
  createLiveGrader,
  type GradeSettings,
  type ReportSlot,
} from '../../../src/core/grading/index.ts';
import {
  bar,
  C_DORIAN,
  C_IONIAN,
  formOf,
  gradeLine,
  lineEvents,
  STEADY_60,
} from '../../helpers/hand-made.ts';

const ionian = formOf([bar(C_IONIAN)]);
const SLOT_MS = 500;
/** Keys struck within this are one strike; `grading.md`, "Slots and onsets". */
const STRIKE_MS = 30;

/** Plays a line until the cell after a slot is over: which slots and which changes have been told by then. */
function toldAfter(form: Form, line: string, slot: number, settings: Partial<GradeSettings> = {}) {
  const slots: number[] = [];
  const changes: (readonly [slot: number, arrival: string])[] = [];
  const live = createLiveGrader(
    form,
    { level: 'leaps', tempo: STEADY_60, ...settings },
    {
      heard() {},
      settled: ({ index }) => slots.push(index),
      changed: (change) => changes.push([change.slot, change.arrival]),
    },
    [],
    0,
  );
  const nowMs = (slot + 1.5) * SLOT_MS + STRIKE_MS + 1;
  for (const event of lineEvents(form, line, settings).events) {
    if (event.atMs < nowMs) live.take(event);
  }
  live.advance(nowMs);
  return { slots, changes };
}

describe('a settled verdict', () => {
  test('on a note inside comes when the next slot’s cell is over', () => {
    const line = 'C4 D4 E4 F4 G4 A4 B4 C5';
    expect(toldAfter(ionian, line, 0).slots).toEqual([0]);
    expect(toldAfter(ionian, line, 3).slots).toEqual([0, 1, 2, 3]);
  });

  test('on a gap comes as soon', () => {
    expect(toldAfter(ionian, 'C4 - E4 F4 G4', 1).slots).toEqual([0, 1]);
  });

  test('under N.C. comes as soon, whatever the note', () => {
    expect(toldAfter(formOf([bar(null)]), 'C4 Db4 D4 Eb4', 2).slots).toEqual([0, 1, 2]);
  });

  test('on an outside note waits for the note after it', () => {
    const line = 'C4 Db4 D4 E4 F4';
    expect(toldAfter(ionian, line, 1).slots).toEqual([0]);
    expect(toldAfter(ionian, line, 2).slots).toEqual([0, 1, 2]);
  });

  test('on the first of many outside notes waits for three, and then no longer', () => {
    const line = 'Db4 Eb4 Gb4 Ab4 Bb4 C5 D5';
    expect(toldAfter(ionian, line, 2).slots).toEqual([]);
    expect(toldAfter(ionian, line, 3).slots).toEqual([0]);
    expect(toldAfter(ionian, line, 5).slots).toEqual([0, 1, 2, 3, 4, 5]);
  });
});

describe('a change', () => {
  const two = formOf([bar(C_IONIAN), bar(C_DORIAN)]);
  const line = 'C4 D4 E4 F4 G4 F4 E4 D4 C4 Eb4 D4 C4';

  test('is told once, when its proof is read', () => {
    expect(toldAfter(two, line, 8).changes).toEqual([]);
    expect(toldAfter(two, line, 9).changes).toEqual([[8, 'onTime']]);
    expect(toldAfter(two, line, 11).changes).toEqual([[8, 'onTime']]);
  });

  test('without a proof is told when the next one begins', () => {
    const common = 'C4 D4 C4 D4 C4 D4 C4 D4';
    const unproven = `${common} ${common} E4 D4 C4`;
    expect(toldAfter(two, unproven, 15).changes).toEqual([]);
    // The first slot of a second chorus is withheld until more comes: it may be the closing note.
    expect(toldAfter(two, unproven, 16).changes).toEqual([]);
    expect(toldAfter(two, unproven, 17).changes).toEqual([
      [8, 'unproven'],
      [16, 'onTime'],
    ]);
  });

  test('to the same set is told when it is reached', () => {
    const modes = formOf([bar(C_IONIAN), [{ beats: 4, palette: { ...C_IONIAN, root: 'D' } }]]);
    const again = 'C4 D4 C4 D4 C4 D4 C4 D4 E4 F4';
    expect(toldAfter(modes, again, 8).changes).toEqual([[8, 'unchanged']]);
    expect(gradeLine(modes, again).changes).toHaveLength(1);
  });
});

describe('an event delivered late', () => {
  const settings = { level: 'steps', tempo: STEADY_60 } as const;
  const silent = { heard() {}, settled() {}, changed() {} };

  test('after its time has passed stands in its place in what was recorded, and in the report', () => {
    const { events, endMs } = lineEvents(ionian, 'C4 D4 E4 F4 G4');
    const straggler = events.find(({ kind, atMs }) => kind === 'noteOn' && atMs === 1000);
    const live = createLiveGrader(ionian, settings, silent);
    for (const event of events) if (event !== straggler) live.take(event);
    live.advance(2300);
    if (straggler !== undefined) live.take(straggler);
    live.advance(2400);
    const recorded = live.recorded(endMs);
    expect(recorded.events.map(({ atMs }) => atMs)).toEqual(events.map(({ atMs }) => atMs));
    expect(recorded.endMs).toBe(endMs);
    expect(live.end(endMs)).toEqual(gradeLine(ionian, 'C4 D4 E4 F4 G4'));
  });

  test('misses the running verdicts, and makes no event be taken twice', () => {
    const told: (string | null)[] = [];
    const listener = {
      ...silent,
      settled: ({ note, faults }: ReportSlot) =>
        told.push([note?.name ?? '-', ...faults].join(' ')),
    };
    const { events } = lineEvents(ionian, 'C4 D4 E4 F4 G4 A4');
    const straggler = events.find(({ kind, atMs }) => kind === 'noteOn' && atMs === 500);
    const live = createLiveGrader(ionian, settings, listener, [], 0);
    for (const event of events) {
      if (event === straggler) continue;
      live.take(event);
      live.advance(event.atMs + 1);
      if (event.atMs === 1500 && straggler !== undefined) live.take(straggler);
    }
    live.advance(2800);
    expect(told).toEqual(['C4', '- gap', 'E4', 'F4', 'G4']);
  });
});
