/** Counting notes into a map, whoever played or wrote them. Source of each figure: `grading.md`, "The map". */

import type { Form } from '../chart/index.ts';
import type { Report } from '../grading/report.ts';
import type { ChartMap, MapNote, Tally, ToneCounts } from './model.ts';
import { layStretches, type Stretches } from './stretches.ts';

type Growing<Counts> = { -readonly [Key in keyof Counts]: Counts[Key] };

const NOTHING = { onBeat: 0, offBeat: 0, rising: 0, falling: 0, arrivals: 0, departures: 0 };

/** The map of a take. The form is the one the report was made of. */
export function mapOfReport(form: Form, report: Report): ChartMap {
  const stretches = layStretches(form);
  return countNotes(stretches, notesOf(stretches, report));
}

/** At `free` a slot's `sub` is in twelfths of a beat. */
function notesOf(stretches: Stretches, { level, slotsPerBeat, slots }: Report): readonly MapNote[] {
  const subs = level === 'free' ? 12 : slotsPerBeat;
  return slots.map(({ bar, beat, sub, judged, note }) => ({
    stretch: stretches.at(bar, beat + sub / subs),
    isOnBeat: sub === 0,
    midi: judged ? (note?.midi ?? null) : null,
  }));
}

/** The map of a line given slot by slot, chorus after chorus. */
export function countNotes({ all }: Stretches, notes: readonly MapNote[]): ChartMap {
  const chords = all.map(({ place, pcs }) => ({
    place,
    tones: new Map(
      pcs.map((pc): [number, Growing<Omit<ToneCounts, 'keys'>> & { keys: Map<number, number> }] => [
        pc,
        { pc, ...NOTHING, keys: new Map() },
      ]),
    ),
    outside: 0,
  }));
  const intervals = all.map(() => new Map<number, number>());
  const runs = new Map<number, number>();
  let turns = 0;
  /** Moves so far in one direction; its sign says which. */
  let run = 0;

  function move(interval: number): void {
    if (interval === 0) return;
    const isTurn = run !== 0 && run > 0 !== interval > 0;
    if (isTurn) {
      turns++;
      endRun();
    }
    run += Math.sign(interval);
  }
  function endRun(): void {
    if (run !== 0) add(runs, Math.abs(run));
    run = 0;
  }

  notes.forEach((note, index) => {
    const { stretch, midi } = note;
    if (midi === null) {
      endRun();
      return;
    }
    const before = notes[index - 1];
    const interval = before?.midi == null ? null : midi - before.midi;
    const isCrossing = before !== undefined && before.stretch !== stretch;
    const isArrival = isCrossing && all[stretch]?.isChange === true;
    if (interval !== null) move(interval);
    if (isArrival && interval !== null) add(intervals[stretch], interval);
    const chord = chords[stretch];
    if (chord === undefined) return;
    const tone = chord.tones.get(midi % 12);
    if (tone === undefined) {
      chord.outside++;
      return;
    }
    if (note.isOnBeat) tone.onBeat++;
    else tone.offBeat++;
    if (interval !== null && interval > 0) tone.rising++;
    if (interval !== null && interval < 0) tone.falling++;
    if (isArrival) tone.arrivals++;
    const next = notes[index + 1]?.stretch ?? stretch;
    if (next !== stretch && all[next]?.isChange === true) tone.departures++;
    add(tone.keys, midi);
  });
  endRun();

  return {
    chords: chords.map(({ place, tones, outside }) => ({
      place,
      tones: [...tones.values()].map((tone) => ({ ...tone, keys: tally(tone.keys) })),
      outside,
    })),
    changes: all.flatMap(({ place, isChange }, index) =>
      isChange ? [{ place, intervals: tally(intervals[index] ?? new Map()) }] : [],
    ),
    runs: tally(runs),
    turns,
  };
}

function add(counts: Map<number, number> | undefined, key: number): void {
  counts?.set(key, (counts.get(key) ?? 0) + 1);
}

/** In rising order of the numbers, so that equal counts are equal data. */
function tally(counts: ReadonlyMap<number, number>): Tally {
  return Object.fromEntries(
    [...counts].sort(([one], [other]) => one - other).map(([key, count]) => [String(key), count]),
  );
}
