/** `bars[]` and `summary` of the report, each figure counted by itself. */

import type { Form } from '../../../src/core/chart/index.ts';
import type { Report } from '../../../src/core/grading/index.ts';
import type { Line } from './judge.ts';
import type { Performance } from './places.ts';
import { isAtLeast } from './times.ts';

type Slots = Report['slots'];

interface Facts {
  readonly slotsPerBeat: number;
  readonly isFree: boolean;
  readonly unplayed: number;
  chordPcsAt(index: number): readonly number[] | null;
}

export function summarise(
  form: Form,
  played: Performance,
  line: Line,
  slots: Slots,
  changes: Report['changes'],
  facts: Facts,
): Pick<Report, 'bars' | 'summary'> {
  const bars = [...Map.groupBy(slots, ({ chorus, bar }) => `${chorus}.${bar}`).values()].map(
    (inBar): Report['bars'][number] => {
      const { chorus = 0, bar = 0 } = inBar[0] ?? {};
      const late = changes.filter(
        (change) => change.arrival === 'late' && change.chorus === chorus && change.bar === bar,
      );
      return {
        chorus,
        bar,
        slots: inBar.filter(({ judged }) => judged).length,
        ...tally(inBar),
        lateChanges: late.length,
        unjudged: inBar.filter(({ judged }) => !judged).length,
      };
    },
  );
  const counted = changes.filter(
    ({ arrival }) => arrival !== 'unchanged' && arrival !== 'unjudged',
  );
  // "`slots`, `clean`, `cleanRate` and every sum count judged slots only."
  const sum = slots.filter(({ judged }) => judged).length;
  const arrived = (arrival: string): number =>
    counted.filter((change) => change.arrival === arrival).length;
  const { clean, ...faults } = tally(slots);
  const summary = {
    slots: sum,
    clean,
    cleanRate: sum === 0 ? null : clean / sum,
    unplayed: facts.unplayed,
    unjudged: slots.length - sum,
    ...faults,
    changes: {
      counted: counted.length,
      onTime: arrived('onTime'),
      late: arrived('late'),
      early: counted.filter(({ earlyBy }) => earlyBy > 0).length,
      unproven: arrived('unproven'),
    },
    timing: timingOf(form, played, line, slots.map(asCounted), facts),
    line: shapeOf(slots.map(asCounted), facts),
  };
  return {
    bars,
    summary: facts.isFree ? { ...summary, rhythm: rhythmOf(form, played, line) } : summary,
  };
}

/** A slot that is not judged counts as if nothing had been played there. */
function asCounted(slot: Slots[number]): Slots[number] {
  return slot.judged ? slot : { ...slot, note: null };
}

function tally(all: Slots) {
  const slots = all.filter(({ judged }) => judged);
  const having = (fault: Slots[number]['faults'][number]): number =>
    slots.filter(({ faults }) => faults.includes(fault)).length;
  return {
    clean: slots.filter(({ faults }) => faults.length === 0).length,
    gap: having('gap'),
    early: having('early'),
    late: having('late'),
    outside: having('outside'),
    interval: having('interval'),
    extra: having('extra'),
  };
}

function mean(values: readonly number[]): number | null {
  return values.length === 0 ? null : values.reduce((sum, value) => sum + value, 0) / values.length;
}

function median(values: readonly number[]): number | null {
  const sorted = values.toSorted((a, b) => a - b);
  const middle = sorted.slice(Math.ceil(sorted.length / 2) - 1, Math.floor(sorted.length / 2) + 1);
  return sorted.length === 0 ? null : mean(middle);
}

function timingOf(
  form: Form,
  { beatsPerChorus }: Performance,
  { entries }: Line,
  slots: Slots,
  { slotsPerBeat, isFree }: Facts,
): Report['summary']['timing'] {
  const points = slots.flatMap(({ note }, index) =>
    note === null
      ? []
      : [
          {
            offMs: note.deviationMs,
            bar: ((entries[index]?.atBeat ?? 0) * form.bars.length) / beatsPerChorus,
          },
        ],
  );
  const deviations = points.map(({ offMs }) => offMs);
  const meanMs = mean(deviations);
  const variance = mean(deviations.map((offMs) => (offMs - (meanMs ?? 0)) ** 2));
  const meanBar = mean(points.map(({ bar }) => bar)) ?? 0;
  const spread = points.reduce((sum, { bar }) => sum + (bar - meanBar) ** 2, 0);
  const together = points.reduce(
    (sum, { bar, offMs }) => sum + (bar - meanBar) * (offMs - (meanMs ?? 0)),
    0,
  );
  // The median over beats whose two eighths and next downbeat are all played: what it is taken over, the text leaves open.
  const swings = slots.flatMap(({ sub, note }, index) => {
    const off = slots[index + 1]?.note ?? null;
    const next = slots[index + 2]?.note ?? null;
    if (isFree || slotsPerBeat !== 2 || sub !== 0 || !note || !off || !next) return [];
    return [(off.onsetMs - note.onsetMs) / (next.onsetMs - off.onsetMs)];
  });
  return {
    meanMs,
    sdMs: variance === null ? null : Math.sqrt(variance),
    medianMs: median(deviations),
    slopeMsPerBar: points.length === 0 || spread === 0 ? null : together / spread,
    swingRatio: median(swings),
    steadyOffsetMs: null,
    steadySwing: null,
  };
}

function shapeOf(slots: Slots, { chordPcsAt }: Facts): Report['summary']['line'] {
  const keys = slots.map(({ note }) => note?.midi ?? null);
  const sounding = keys.filter((key) => key !== null);
  const moves = keys.flatMap((key, index) => {
    const before = keys[index - 1] ?? null;
    return key === null || before === null ? [] : [key - before];
  });
  const directions = moves.map(Math.sign).filter((direction) => direction !== 0);
  const runs = slots
    .map(({ judged, faults }) => (judged && faults.length === 0 ? 'c' : ' '))
    .join('')
    .split(' ');
  const onBeats = slots.flatMap(({ sub, note }, index) => {
    const pcs = chordPcsAt(index);
    return sub !== 0 || note === null || pcs === null ? [] : [pcs.includes(note.midi % 12)];
  });
  const sizes = moves.map(Math.abs).toSorted((a, b) => a - b);
  return {
    lowest: sounding.length === 0 ? null : Math.min(...sounding),
    highest: sounding.length === 0 ? null : Math.max(...sounding),
    turns: directions.filter((direction, index) => index > 0 && direction !== directions[index - 1])
      .length,
    longestRun: Math.max(...runs.map(({ length }) => length)),
    chordTonesOnBeats: mean(onBeats.map(Number)),
    intervals: Object.fromEntries(
      [...Map.groupBy(sizes, String)].map(([size, { length }]) => [size, length]),
    ),
  };
}

/** "Rhythm is described, not judged: share of each rhythmic value, rests, syncopation." */
function rhythmOf(
  form: Form,
  played: Performance,
  { entries, notes }: Line,
): NonNullable<Report['summary']['rhythm']> {
  const beatMs = played.timeMs(1);
  const line = entries.flatMap(({ atBeat, sub }, index) => {
    const note = notes[index] ?? null;
    const endMs = (note?.onsetMs ?? 0) + (note?.durationMs ?? 0);
    return note === null ? [] : [{ index, atBeat, sub, ...note, endMs }];
  });
  // Nothing is told of the time to a note that is not judged, or from one: left open.
  const between = line
    .slice(1)
    .map((note, index) => ({ note, before: line[index] }))
    .filter(({ note, before }) => note.index - (before?.index ?? 0) === 1);
  const values = between.map(({ note, before }) =>
    Math.round((note.atBeat - (before?.atBeat ?? 0)) * 12),
  );
  const offBeat = line.filter(({ sub }) => sub !== 0);
  // "Deviation from the nearest eighth, triplet or sixteenth": in twelfths of the beat, sixteenths that are none left out.
  const { unit, groups } = form.meter;
  const isCompound = unit === 8 && groups === undefined;
  const inHalves = unit === 2 ? [0, 2, 3, 4, 6, 8, 9, 10, 12] : [0, 3, 4, 6, 8, 9, 12];
  const places = isCompound ? [0, 2, 4, 6, 8, 10, 12] : inHalves;
  return {
    values: Object.fromEntries(
      [
        ...Map.groupBy(
          values.toSorted((a, b) => a - b),
          String,
        ),
      ].map(([value, { length }]) => [value, length / between.length]),
    ),
    rests: between.filter(({ note, before }) =>
      isAtLeast(note.onsetMs - (before?.endMs ?? 0), beatMs / 2),
    ).length,
    syncopation: mean(
      offBeat.map(({ atBeat, endMs }) =>
        Number(!isAtLeast((Math.floor(atBeat) + 1) * beatMs, endMs)),
      ),
    ),
    medianDeviationMs: median(
      line.map(({ atBeat, onsetMs }) =>
        places
          .map((twelfth) => onsetMs - (Math.floor(atBeat) + twelfth / 12) * beatMs)
          .reduce((best, next) => (Math.abs(next) < Math.abs(best) ? next : best)),
      ),
    ),
  };
}
