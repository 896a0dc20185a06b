/** Keyboards with a latency and a split of their own. Source: `grading.md`, "Time and grid", sources; worked by hand. */

import { describe, expect, test } from 'vitest';
import { createLiveGrader, gradeTake, type ReportSlot } from '../../../src/core/grading/index.ts';
import type { TakeEvent, TakeEvents, TakeSource } from '../../../src/core/take/model.ts';
import { bar, C_IONIAN, formOf, key, STEADY_60 } from '../../helpers/hand-made.ts';

const form = formOf([bar(C_IONIAN)]);
const settings = { level: 'steps', tempo: STEADY_60, choruses: 1 } as const;
const PIANO: TakeSource = { name: 'Piano', latencyMs: 10, splitMidi: null };
const PAD: TakeSource = { name: 'Pad', latencyMs: 90, splitMidi: 60 };

function from(source: number, events: readonly TakeEvent[]): readonly TakeEvent[] {
  return events.map((event) => ({ ...event, source }));
}

function takeOf(
  sources: readonly TakeSource[],
  ...keys: readonly (readonly TakeEvent[])[]
): TakeEvents {
  const events = keys.flat().toSorted((a, b) => a.atMs - b.atMs);
  return { events, endMs: 6000, sources, breaks: [] };
}

describe('a keyboard', () => {
  test('has its own latency taken off', () => {
    const take = takeOf([PIANO, PAD], key(10, 'C4'), from(1, key(590, 'D4')), key(1010, 'E4'));
    const { slots } = gradeTake(form, take, settings);
    expect(slots.map(({ note }) => note?.deviationMs)).toEqual([0, 0, 0]);
  });

  test('has its own split', () => {
    const bass = [...key(510, 'C3'), ...from(1, key(1090, 'C3'))];
    const { slots } = gradeTake(form, takeOf([PIANO, PAD], key(10, 'C4'), bass), settings);
    expect(slots.map(({ note }) => note?.name)).toEqual(['C4', 'C3']);
  });

  test('that is overridden counts with the setting', () => {
    const take = takeOf([PIANO, PAD], key(40, 'C4'), from(1, key(540, 'C3')));
    const report = gradeTake(form, take, { ...settings, latencyMs: 40, splitMidi: null });
    expect(report.slots.map(({ note }) => note?.deviationMs)).toEqual([0, 0]);
    expect(report.sources.map(({ latencyMs, splitMidi }) => [latencyMs, splitMidi])).toEqual([
      [40, null],
      [40, null],
    ]);
  });

  test('that most of the line came from gives the report its latency and split', () => {
    const line = [key(10, 'C4'), from(1, key(590, 'D4')), from(1, key(1090, 'E4'))];
    expect(gradeTake(form, takeOf([PIANO, PAD], ...line), settings)).toMatchObject({
      latencyMs: 90,
      splitMidi: 60,
    });
    expect(gradeTake(form, takeOf([PIANO, PAD], ...line.slice(0, 2)), settings)).toMatchObject({
      latencyMs: 10,
      splitMidi: null,
    });
  });

  test('holds keys of its own: one let go elsewhere sounds on', () => {
    const long = [
      { kind: 'noteOn', atMs: 10, midi: 60, velocity: 80 },
      { kind: 'noteOff', atMs: 200, midi: 60, source: 1 },
      { kind: 'allOff', atMs: 300, cause: 'disconnect', source: 1 },
      { kind: 'noteOff', atMs: 460, midi: 60 },
    ] as const;
    const { slots } = gradeTake(form, takeOf([PIANO, PAD], long), settings);
    expect(slots[0]?.note?.durationMs).toBe(450);
  });
});

test('events enter in the order they were played, not in that of their delivery', () => {
  // 1000 ms on the pad was played at 910, before 930 on the piano: both in the cell of slot 2, the piano's nearer.
  const take = takeOf([PIANO, PAD], key(1000, 'E4', 90), from(1, key(1005, 'G4', 40)));
  const { slots, extras } = gradeTake(form, take, settings);
  expect(slots[2]?.note?.name).toBe('E4');
  expect(extras).toMatchObject([{ midi: 67, onsetMs: 915, reason: 'spare' }]);
});

test('live, verdicts wait for the keyboard whose keys come latest', () => {
  const told: (string | undefined)[] = [];
  const listener = {
    heard() {},
    changed() {},
    settled: ({ note }: ReportSlot) => told.push(note?.name),
  };
  const live = createLiveGrader(form, settings, listener, [PIANO]);
  live.setSources([PIANO, { ...PAD, latencyMs: 400 }]);
  for (const event of [...key(10, 'C4'), ...key(510, 'D4')]) live.take(event);
  // Slot 1's neighbour is over at 1250 of the time played, 1410 on the piano and 1800 on the pad with the slack of 150.
  live.advance(1799);
  expect(told).toEqual(['C4']);
  for (const event of from(1, key(1400, 'E4'))) live.take(event);
  live.advance(1801);
  expect(told).toEqual(['C4', 'D4']);
});
