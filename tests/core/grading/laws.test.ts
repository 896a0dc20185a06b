/** Laws of the grader: own rules of `grading.md`, stated as properties over random forms and takes. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  createGrader,
  createLiveGrader,
  type GradeSettings,
  gradeTake,
  type Report,
  type ReportChange,
  type ReportSlot,
} from '../../../src/core/grading/index.ts';
import type { TakeEvent, TakeEvents } from '../../../src/core/take/model.ts';
import {
  anyForm,
  anySettings,
  anySourcedSettings,
  anyTake,
  withSources,
} from '../../helpers/arbitrary-take.ts';
import { runs } from '../../helpers/runs.ts';

const RUNS = { numRuns: runs(400, 80), seed: 20_261_129 };

function deepFreeze<Value>(value: Value): Value {
  if (typeof value === 'object' && value !== null && !ArrayBuffer.isView(value)) {
    Object.freeze(value);
    for (const part of Object.values(value)) deepFreeze(part);
  }
  return value;
}

describe('streaming', () => {
  test('cutting the events anywhere and telling the time in between leaves the report as it is', () => {
    fc.assert(
      fc.property(
        anyForm,
        anySettings,
        anyTake,
        fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 20 }),
        (form, settings, take, clockShares) => {
          const grader = createGrader(form, settings);
          take.events.forEach((event, index) => {
            // The clock may be told at any time up to the next event.
            const share = clockShares[index % Math.max(clockShares.length, 1)];
            grader.take(event);
            const nextMs = take.events[index + 1]?.atMs ?? take.endMs;
            const { latencyMs = 0 } = settings;
            const passedMs = event.atMs + (share ?? 0) * (nextMs - event.atMs);
            if (share !== undefined) grader.advance(passedMs - latencyMs);
          });
          expect(grader.end(take.endMs)).toEqual(gradeTake(form, take, settings));
        },
      ),
      RUNS,
    );
  });

  test('live verdicts are those of the report, whatever the delay and order of delivery', () => {
    fc.assert(
      fc.property(
        anyForm,
        anySourcedSettings,
        withSources(anyTake),
        fc.array(fc.integer({ min: 0, max: 45 }), { minLength: 1, maxLength: 10 }),
        fc.integer({ min: 5, max: 400 }),
        (form, settings, take, delaysMs, tickMs) => {
          const live = playLive(form, settings, take, delaysMs, tickMs);
          const report = gradeTake(form, take, settings);
          expect(live.report).toEqual(report);
          for (const slot of live.slots.filter(({ index }) => index < report.slots.length)) {
            expect(withoutDuration(slot)).toEqual(withoutDuration(report.slots[slot.index]));
          }
          for (const change of live.changes.filter(({ slot }) => slot < report.slots.length)) {
            expect(report.changes).toContainEqual(change);
          }
        },
      ),
      RUNS,
    );
  });

  test('each slot is told live exactly once, in order', () => {
    fc.assert(
      fc.property(anyForm, anySettings, anyTake, (form, settings, take) => {
        const live = playLive(form, settings, take, [0], 20);
        expect(live.slots.map(({ index }) => index)).toEqual(live.slots.map((_, index) => index));
      }),
      RUNS,
    );
  });
});

describe('the report', () => {
  test('is built without touching what it is built from, and survives JSON', () => {
    fc.assert(
      fc.property(anyForm, anySettings, anyTake, (form, settings, take) => {
        const report = gradeTake(deepFreeze(form), deepFreeze(take), deepFreeze(settings));
        expect(JSON.parse(JSON.stringify(report))).toEqual(report);
      }),
      RUNS,
    );
  });

  test('adds up: bars to the summary, arrivals to the changes counted', () => {
    fc.assert(
      fc.property(anyForm, anySourcedSettings, withSources(anyTake), (form, settings, take) => {
        const { slots, bars, summary, extras } = gradeTake(form, take, settings);
        const total = (count: (bar: (typeof bars)[number]) => number) =>
          bars.reduce((sum, bar) => sum + count(bar), 0);
        const judged = slots.filter((slot) => slot.judged);
        expect(total((bar) => bar.slots)).toBe(judged.length);
        expect(total((bar) => bar.unjudged)).toBe(slots.length - judged.length);
        expect([summary.slots, summary.unjudged]).toEqual([
          judged.length,
          slots.length - judged.length,
        ]);
        expect(total((bar) => bar.clean)).toBe(summary.clean);
        expect(judged.filter(({ faults }) => faults.length === 0)).toHaveLength(summary.clean);
        const { counted, onTime, late, unproven } = summary.changes;
        expect(onTime + late + unproven).toBe(counted);
        const ofJudged = extras.filter(({ slot }) => slots[slot]?.judged);
        expect(new Set(ofJudged.map(({ slot }) => slot)).size).toBe(summary.extra);
        if (slots.length > 0) expect(slots.at(-1)?.note).not.toBeNull();
      }),
      RUNS,
    );
  });

  test('keeps every onset of the line once: in a slot or among the extras', () => {
    fc.assert(
      fc.property(anyForm, anySettings, anyTake, (form, settings, take) => {
        const open = { ...settings, choruses: null };
        const { slots, extras, closing } = gradeTake(form, take, open);
        const used = [
          ...slots.flatMap(({ note }) => (note ? [note.onsetMs] : [])),
          ...extras.map(({ onsetMs }) => onsetMs),
        ];
        const split = settings.splitMidi ?? 0;
        const played = take.events.flatMap((event) =>
          event.kind === 'noteOn' && event.midi >= split
            ? [event.atMs - (settings.latencyMs ?? 0)]
            : [],
        );
        // What is left at the end is the closing note, with the keys struck with it.
        const left = [...played];
        for (const onsetMs of used) left.splice(left.indexOf(onsetMs), 1);
        const closed = left.filter(
          (onsetMs) => closing !== null && Math.abs(onsetMs - closing.onsetMs) <= 30.000001,
        );
        // What lies before the first cell is not part of the line; everything later is.
        const beforeLine = played.length - used.length - closed.length;
        expect(beforeLine).toBeGreaterThanOrEqual(0);
        expect(ascending([...used, ...closed])).toEqual(ascending(played).slice(beforeLine));
      }),
      RUNS,
    );
  });

  test('scaling tempo and times together leaves the verdicts where the tolerance scales', () => {
    fc.assert(
      fc.property(anyForm, anySettings, anyTake, (form, settings, take) => {
        // Powers of two scale floating-point times exactly. Strikes do not scale, so none may be doubtful.
        const sparse = apart(take, 130);
        const slow = { ...settings, latencyMs: 0, tempo: steady(50), toleranceMs: 60 };
        const half = { ...slow, tempo: steady(100), toleranceMs: 30 };
        const faults = (report: Report) =>
          report.slots.map((slot) => [slot.note?.midi ?? null, slot.faults, slot.marks]);
        expect(faults(gradeTake(form, scaled(sparse, 0.5), half))).toEqual(
          faults(gradeTake(form, sparse, slow)),
        );
      }),
      RUNS,
    );
  });
});

function steady(tempoBpm: number): GradeSettings['tempo'] {
  return { kind: 'steady', tempoBpm };
}

function ascending(values: readonly number[]): readonly number[] {
  return [...values].sort((a, b) => a - b);
}

function scaled(take: TakeEvents, factor: number): TakeEvents {
  return {
    ...take,
    events: take.events.map((event) => ({ ...event, atMs: event.atMs * factor })),
    endMs: take.endMs * factor,
  };
}

/** Drops key-downs nearer than a distance to the one before, with their key-ups. */
function apart(take: TakeEvents, leastMs: number): TakeEvents {
  let lastMs = Number.NEGATIVE_INFINITY;
  const events = take.events.filter((event) => {
    if (event.kind !== 'noteOn') return true;
    const keep = event.atMs - lastMs > leastMs;
    if (keep) lastMs = event.atMs;
    return keep;
  });
  return { ...take, events };
}

function withoutDuration(slot: ReportSlot | undefined) {
  if (!slot?.note) return slot;
  const { midi, name, onsetMs, deviationMs, velocity } = slot.note;
  return { ...slot, note: { midi, name, onsetMs, deviationMs, velocity } };
}

/** Plays a take to a live grader: each event is delivered some milliseconds after it was played. */
function playLive(
  form: Parameters<typeof createLiveGrader>[0],
  settings: GradeSettings,
  take: TakeEvents,
  delaysMs: readonly number[],
  tickMs: number,
) {
  const slots: ReportSlot[] = [];
  const changes: ReportChange[] = [];
  const listener = {
    heard() {},
    settled: (slot: ReportSlot) => slots.push(slot),
    changed: (change: ReportChange) => changes.push(change),
  };
  // The keyboards are plugged in one after another, a moment before their first keys; each break is told when it is over.
  const grader = createLiveGrader(form, settings, listener, take.sources.slice(0, 1));
  const pluggedMs = take.sources.map((_, source) => {
    const first = take.events.find((event) => (event.source ?? 0) >= source);
    return (first?.atMs ?? 0) - 250;
  });
  const deliveries: { readonly atMs: number; readonly event: TakeEvent | null }[] = [];
  take.events.forEach((event, index) => {
    // Events of one instant come in their order: a port never swaps those.
    const delayMs =
      take.events[index - 1]?.atMs === event.atMs ? 45 : (delaysMs[index % delaysMs.length] ?? 0);
    deliveries.push({ atMs: event.atMs + delayMs, event });
  });
  for (let atMs = -300; atMs < take.endMs; atMs += tickMs) deliveries.push({ atMs, event: null });
  deliveries.sort((a, b) => a.atMs - b.atMs);
  const untold = [...take.breaks];
  for (const { atMs, event } of deliveries) {
    for (const pause of untold.splice(0)) {
      // The clock is doubted as soon as it is wrong, and the doubt is over when the break is.
      if (pause.toMs > atMs) untold.push(pause);
      else grader.addBreak(pause);
    }
    const doubtedMs = Math.min(...untold.map(({ fromMs }) => fromMs));
    const plugged = pluggedMs.filter((ms) => ms <= atMs).length;
    grader.setSources(take.sources.slice(0, Math.max(plugged, 1)));
    if (event === null) grader.advance(Math.min(atMs, doubtedMs));
    else grader.take(event);
  }
  for (const pause of untold) grader.addBreak(pause);
  grader.setSources(take.sources);
  return { slots, changes, report: grader.end(take.endMs) };
}
