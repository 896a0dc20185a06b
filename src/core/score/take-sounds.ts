/** A graded take as it is written down: slot by slot, or, at `free`, each onset at the nearest place that can be read. */

import type { Form, Meter } from '../chart/index.ts';
import { TWELFTHS } from '../grading/free-line.ts';
import type { Report, ReportSlot } from '../grading/index.ts';
import type { SlotsPerBeat } from '../words.ts';
import { barStarts } from './bar-starts.ts';
import { beatGrids } from './note-values.ts';
import { type Sound, slotPlaces } from './sounds.ts';

/** A silence of half a beat between two notes is a rest. Source: `grading.md`, "Level `free`". */
const LEAST_REST = TWELFTHS / 2;

export interface TakeSounds {
  readonly sounds: readonly Sound[];
  /** Choruses reached, the last one maybe in part. */
  readonly choruses: number;
  /** Notes that came too close to another to be written beside it. */
  readonly unwritten: number;
}

/** The sounds of a report over its form. In: the slots per beat that were asked for, null for eighths in every meter. */
export function soundsOfReport(
  form: Form,
  report: Report,
  slotsPerBeat: SlotsPerBeat | null,
): TakeSounds {
  const choruses = report.slots.at(-1)?.chorus ?? 0;
  if (report.level === 'free') return freeSounds(form, report, choruses);
  const places = slotPlaces(form, slotsPerBeat, choruses);
  const sounds = report.slots.flatMap(({ index, note }) => {
    const place = places[index];
    return place === undefined ? [] : [{ ...place, name: note?.name ?? null, slot: index }];
  });
  return { sounds, choruses, unwritten: 0 };
}

interface Onset {
  readonly slot: ReportSlot;
  readonly name: string;
  /** Beats from the first downbeat. */
  readonly beat: number;
  readonly meter: Meter;
  /** How long the key was down, in twelfths of the beat. */
  readonly heldTwelfths: number;
}

function freeSounds(form: Form, report: Report, played: number): TakeSounds {
  const beatMs = 60_000 / report.tempo;
  const { bars, beats: chorusBeats } = barStarts(form);
  const onsets = report.slots.flatMap((slot): Onset[] => {
    const at = bars.get(slot.bar);
    if (slot.note === null || at === undefined) return [];
    const beat = (slot.chorus - 1) * chorusBeats + at.beat + slot.beat - 1;
    const heldTwelfths = (slot.note.durationMs / beatMs) * TWELFTHS;
    return [{ slot, name: slot.note.name, beat, meter: at.bar.meter, heldTwelfths }];
  });
  const beats = [...Map.groupBy(onsets, ({ beat }) => beat).values()];
  const placed = beats.flatMap(placeInBeat).sort((one, other) => one.from - other.from);
  const apart = placed.filter(({ from }, index) => from !== placed[index - 1]?.from);
  const sounds = apart.map(({ onset, from, grid }, index): Sound => {
    const next = apart[index + 1]?.from ?? Number.POSITIVE_INFINITY;
    const up = from + Math.max(grid, Math.round(onset.heldTwelfths / grid) * grid);
    const to = next - up >= LEAST_REST ? up : next;
    return { from, length: to - from, name: onset.name, slot: onset.slot.index };
  });
  // A last note may be nearest to the downbeat after its chorus: it is written there.
  const last = sounds.at(-1);
  const reached = last === undefined ? 0 : Math.floor(last.from / (chorusBeats * TWELFTHS)) + 1;
  return { sounds, choruses: Math.max(played, reached), unwritten: placed.length - apart.length };
}

/** A finer division must bring the onsets this much nearer, in twelfths for each, to be worth reading. Own choice. */
const FINER_COST = 0.4;

/** The onsets of one beat at the places of the division that fits them best and keeps them apart. */
function placeInBeat(
  onsets: readonly Onset[],
): readonly { readonly onset: Onset; readonly from: number; readonly grid: number }[] {
  const meter = onsets[0]?.meter;
  if (meter === undefined) return [];
  const tries = beatGrids(meter).map(({ parts }, rank) => {
    const grid = TWELFTHS / parts;
    const places = onsets.map(({ slot }) => Math.round(slot.sub / grid) * grid);
    const moved = places.reduce((sum, at, index) => sum + Math.abs(at - subOf(onsets, index)), 0);
    const clashes = places.length - new Set(places).size;
    return { grid, places, cost: moved + rank * FINER_COST * onsets.length + clashes * TWELFTHS };
  });
  const best = tries.reduce((one, other) => (other.cost < one.cost ? other : one));
  return onsets.map((onset, index) => ({
    onset,
    from: onset.beat * TWELFTHS + (best.places[index] ?? 0),
    grid: best.grid,
  }));
}

function subOf(onsets: readonly Onset[], index: number): number {
  return onsets[index]?.slot.sub ?? 0;
}
