/**
 * A take under a storm of MIDI: what is graded while it is played is what its events give afterwards, from memory, from
 * the library and from a file. `npm run bench -- midi-stress` plays ten minutes of it.
 */

import { describe, expect, test } from 'vitest';
import { gradeTake, type ReportSlot } from '../../../src/core/grading/index.ts';
import { inOrderOfTime } from '../../../src/core/take/in-order.ts';
import { createTakeStore, openLibrary } from '../../../src/main/store/index.ts';
import { setUpFor } from '../../helpers/set-up.ts';
import { STORM_FORM, STORM_SETTINGS, startStormyTake } from '../../helpers/stormy-take.ts';

const STORM = { seed: 3, ports: 4, keys: 0.9 };
const LENGTH_MS = 20_000;
const END_MS = LENGTH_MS + 200;
/** Two bars of count-in at 120, in which the keys are as many. */
const COUNT_IN_MS = 4000;

function verdict({ index, note, faults, marks }: ReportSlot) {
  return { index, midi: note?.midi ?? null, onsetMs: note?.onsetMs ?? null, faults, marks };
}

describe('four ports as full as their wires', () => {
  const { live, stored, sources, counts, play, settle } = startStormyTake(STORM, true);
  play(-COUNT_IN_MS, 0);
  play(0, LENGTH_MS / 2);
  play(LENGTH_MS / 2, LENGTH_MS);
  settle(LENGTH_MS);
  const settled = [...live.snapshot().settled];

  test('are a storm: keys, lost key-ups, clock and loose contacts', () => {
    expect(counts.messages).toBeGreaterThan(4 * 24 * 1000);
    expect(counts.events / counts.messages).toBeGreaterThan(0.7);
    expect(counts.events).toBeLessThan(counts.messages);
  });

  test('are graded live as from memory, and as from the library, from the count-in on', async () => {
    const report = live.end(END_MS);
    expect(await live.handIn()).toMatchObject({ ok: true });
    expect(stored).toHaveLength(counts.events);
    expect(stored.some(({ kind }) => kind === 'allOff')).toBe(true);
    // The count-in is kept and not judged: what lies before the cell of the first slot fills none.
    expect(stored.filter(({ atMs }) => atMs < -1000).length).toBeGreaterThan(4 * 3 * 700);
    expect(report.slots[0]?.note?.onsetMs).toBeGreaterThanOrEqual(-125);
    // Every time is one that can be, whatever the ports say of them.
    const impossible = stored.filter(({ atMs }) => !(atMs >= -COUNT_IN_MS && atMs <= END_MS));
    expect(impossible).toEqual([]);
    // They were delivered out of step: what is stored is not in order of time.
    expect(inOrderOfTime(stored)).not.toBe(stored);
    const beside = { endMs: END_MS, sources: sources(), breaks: [] };
    expect(beside.sources).toHaveLength(4);
    const take = { events: inOrderOfTime(stored), ...beside };
    expect(gradeTake(STORM_FORM, take, STORM_SETTINGS)).toEqual(report);

    const database = openLibrary(':memory:');
    const takes = createTakeStore(database);
    const takeId = takes.begin(setUpFor(), 0);
    for (let from = 0; from < stored.length; from += 5000) {
      takes.append(takeId, from, stored.slice(from, from + 5000));
    }
    expect(gradeTake(STORM_FORM, { ...takes.get(takeId), ...beside }, STORM_SETTINGS)).toEqual(
      report,
    );
    takes.finish(takeId, END_MS, null);
    expect(gradeTake(STORM_FORM, { ...takes.get(takeId), ...beside }, STORM_SETTINGS)).toEqual(
      report,
    );
    database.close();

    expect(settled.length).toBeGreaterThan(60);
    expect(settled.map(verdict)).toEqual(report.slots.slice(0, settled.length).map(verdict));
  });
});

test('clock and active sensing alone leave nothing behind', async () => {
  const { live, counts, play, settle } = startStormyTake({ ...STORM, keys: 0 }, true);
  play(0, 5000);
  settle(5000);
  expect(counts.messages).toBeGreaterThan(4 * 5 * 1000);
  expect(counts.events).toBe(0);
  expect(live.end(5000).slots).toEqual([]);
});
