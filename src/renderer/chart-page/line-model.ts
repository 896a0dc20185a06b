/**
 * From verdicts to what is drawn on the chart's page: for each bar, the piece of the line that lies in it. Pure; the
 * same model draws a line while it is played and a chorus looked at afterwards.
 */

import { beatsPerBar, type Form } from '../../core/chart/index.ts';
import type { HeardNote, ReportChange, ReportSlot } from '../../core/grading/index.ts';
import {
  createBeatClock,
  createSlotGrid,
  defaultSlotsPerBeat,
  type SlotGrid,
} from '../../core/grid/index.ts';
import type { Arrival, Fault, Level, Mark, SlotsPerBeat } from '../../core/words.ts';

/** Positions are shares: x 0–1 through the bar, y 0 at the top of the register and 1 at its bottom. */
export interface Point {
  readonly x: number;
  readonly y: number;
}

export interface NoteDrawing extends Point {
  readonly slot: number;
  readonly midi: number;
  readonly faults: readonly Fault[];
  readonly marks: readonly Mark[];
  readonly settled: boolean;
}

/** Where a change of palette showed: the proof, or the stretch over which the old palette hung on. */
export interface ChangeDrawing {
  readonly arrival: Arrival;
  readonly from: number;
  readonly to: number;
  readonly bySlots: number | null;
  /** Where the new palette was heard, at the bar's end at the latest; null where it was not. */
  readonly provenAt: number | null;
  readonly toChord: string;
}

export interface BarDrawing {
  readonly bar: number;
  readonly chorus: number;
  readonly notes: readonly NoteDrawing[];
  /** Unbroken pieces of the line, each at least two points. */
  readonly strokes: readonly (readonly Point[])[];
  /** x of each slot that nothing filled. */
  readonly gaps: readonly number[];
  readonly changes: readonly ChangeDrawing[];
}

/** The register drawn, in MIDI numbers. */
export interface Register {
  readonly low: number;
  readonly high: number;
}

/** An octave and a half around where a right-hand line usually begins. Common practice, no source. */
export const FIRST_REGISTER: Register = { low: 58, high: 76 };

/** Steps by which the register grows, in semitones: seldom, and never out of sight. */
const GROWTH = 6;

/** The register grown until every note lies in it, from `FIRST_REGISTER` unless told otherwise. */
export function registerFor(midis: Iterable<number>, from: Register = FIRST_REGISTER): Register {
  let { low, high } = from;
  for (const midi of midis) {
    while (midi < low) low -= GROWTH;
    while (midi > high) high += GROWTH;
  }
  return { low, high };
}

/** One entry of the line on its way to the page: a settled slot, or a note just heard. */
interface Entry {
  readonly slot: number;
  readonly x: number;
  readonly barAt: number;
  readonly midi: number | null;
  readonly faults: readonly Fault[];
  readonly marks: readonly Mark[];
  readonly settled: boolean;
}

/** Where the line can lie on the page of a form; laid once for all drawings. */
export interface LineLayout {
  readonly form: Form;
  readonly level: Level;
  readonly slotsPerBeat: SlotsPerBeat | null;
  readonly grid: SlotGrid;
}

/** Lays out a form. */
export function layLine(
  form: Form,
  { level, slotsPerBeat }: Pick<LineLayout, 'level' | 'slotsPerBeat'>,
): LineLayout {
  const clock = createBeatClock(form, { kind: 'steady', tempoBpm: 60 });
  const grid = createSlotGrid(form, clock, { slotsPerBeat, swing: 1, choruses: null });
  return { form, level, slotsPerBeat, grid };
}

export interface LineSource {
  readonly layout: LineLayout;
  readonly settled: readonly ReportSlot[];
  readonly heard: ReadonlyMap<number, HeardNote>;
  readonly changes: readonly ReportChange[];
}

/**
 * Draws one chorus (from 1), or the bars of it from one on (by place in the form, from 0). Bars that hold nothing yet
 * are left out. At `free` a note lies where its twelfth of the beat lies; a note only heard is placed when it settles,
 * a moment later.
 */
export function drawChorus(
  source: LineSource,
  chorus: number,
  register: Register,
  fromBarAt = 0,
): readonly BarDrawing[] {
  const { form, level } = source.layout;
  // One bar more: a stroke may come in from there.
  const entries = entriesOf(source, chorus, fromBarAt - 1);
  const height = register.high - register.low;
  const yOf = (midi: number): number => 1 - (midi - register.low) / height;
  const bars = new Map<number, Mutable<BarDrawing>>();
  const barOf = (barAt: number): Mutable<BarDrawing> => {
    const bar = form.bars[barAt]?.bar ?? barAt + 1;
    const drawing = bars.get(bar) ?? emptyBar(bar, chorus);
    bars.set(bar, drawing);
    return drawing;
  };

  entries.forEach((entry, index) => {
    const drawing = barOf(entry.barAt);
    if (entry.midi === null) {
      drawing.gaps = [...drawing.gaps, entry.x];
      return;
    }
    const { slot, x, midi, faults, marks, settled } = entry;
    drawing.notes = [...drawing.notes, { slot, x, y: yOf(midi), midi, faults, marks, settled }];
    const next = entries[index + 1];
    if (next?.midi === null || next === undefined || !follows(level, entry, next)) return;
    joinNotes(barOf, entry, next, yOf(midi), yOf(next.midi ?? midi));
  });
  for (const change of source.changes) placeChange(source.layout, change, chorus, barOf);
  const firstBar = form.bars[fromBarAt]?.bar ?? 1;
  return [...bars.values()].filter(({ bar }) => bar >= firstBar).sort((a, b) => a.bar - b.bar);
}

type Mutable<Type> = { -readonly [Key in keyof Type]: Type[Key] };

function emptyBar(bar: number, chorus: number): Mutable<BarDrawing> {
  return { bar, chorus, notes: [], strokes: [], gaps: [], changes: [] };
}

/** At the slot levels a line holds from one slot to the next; at `free` every note follows the one before. */
function follows(level: Level, entry: Entry, next: Entry): boolean {
  return level === 'free' || next.slot === entry.slot + 1;
}

function entriesOf(source: LineSource, chorus: number, fromBarAt: number): readonly Entry[] {
  const { layout } = source;
  const settled: Entry[] = [];
  // From the latest back: of a long take, only the end is asked for while it is played.
  for (let index = source.settled.length - 1; index >= 0; index--) {
    const slot = source.settled[index];
    if (slot === undefined || slot.chorus > chorus) continue;
    const barAt = barAtOf(layout.form, slot.bar);
    if (slot.chorus < chorus || barAt < fromBarAt) break;
    settled.push(settledEntry(layout, slot, barAt));
  }
  settled.reverse();
  if (layout.level === 'free') return settled;
  return [...settled, ...heardEntries(source, chorus)].sort((a, b) => a.slot - b.slot);
}

/** Bars of a form are numbered without a hole, from its first. */
function barAtOf(form: Form, bar: number): number {
  return bar - (form.bars[0]?.bar ?? 1);
}

function settledEntry(layout: LineLayout, slot: ReportSlot, barAt: number): Entry {
  const meter = layout.form.bars[barAt]?.meter ?? layout.form.meter;
  const subs = layout.level === 'free' ? 12 : subsOf(layout, barAt);
  return {
    slot: slot.index,
    barAt,
    x: (slot.beat - 1 + slot.sub / subs) / beatsPerBar(meter),
    midi: slot.note?.midi ?? null,
    faults: slot.faults,
    marks: slot.marks,
    settled: true,
  };
}

function subsOf({ form, slotsPerBeat }: LineLayout, barAt: number): number {
  return slotsPerBeat ?? defaultSlotsPerBeat(form.bars[barAt]?.meter ?? form.meter);
}

function heardEntries(source: LineSource, chorus: number): readonly Entry[] {
  const { form, grid } = source.layout;
  return [...source.heard.values()].flatMap((note): Entry[] => {
    if (Math.floor(note.slot / grid.slotsPerChorus) !== chorus - 1) return [];
    const at = grid.slots[note.slot % grid.slotsPerChorus];
    const meter = form.bars[at?.barIndex ?? 0]?.meter;
    if (at === undefined || meter === undefined) return [];
    return [
      {
        slot: note.slot,
        barAt: at.barIndex,
        x: (at.beat - 1 + at.fraction) / beatsPerBar(meter),
        midi: note.midi,
        faults: note.faults,
        marks: [],
        settled: false,
      },
    ];
  });
}

/** Joins two notes; a stroke that crosses a bar line is cut there, and goes on at the same height. */
function joinNotes(
  barOf: (barAt: number) => Mutable<BarDrawing>,
  from: Entry,
  to: Entry,
  fromY: number,
  toY: number,
): void {
  const start = { x: from.x, y: fromY };
  const end = { x: to.x, y: toY };
  if (from.barAt === to.barAt) {
    addStroke(barOf(from.barAt), start, end);
    return;
  }
  const whole = 1 - from.x + (to.barAt - from.barAt - 1) + to.x;
  const cut = fromY + ((toY - fromY) * (1 - from.x)) / whole;
  addStroke(barOf(from.barAt), start, { x: 1, y: cut });
  if (to.barAt === from.barAt + 1) addStroke(barOf(to.barAt), { x: 0, y: cut }, end);
}

/** Adds a piece, as the next point of the last stroke where it goes on from there. */
function addStroke(drawing: Mutable<BarDrawing>, from: Point, to: Point): void {
  const last = drawing.strokes.at(-1);
  const tip = last?.at(-1);
  if (last !== undefined && tip !== undefined && tip.x === from.x && tip.y === from.y) {
    drawing.strokes = [...drawing.strokes.slice(0, -1), [...last, to]];
  } else drawing.strokes = [...drawing.strokes, [from, to]];
}

function placeChange(
  layout: LineLayout,
  change: ReportChange,
  chorus: number,
  barOf: (barAt: number) => Mutable<BarDrawing>,
): void {
  if (change.chorus !== chorus || change.arrival === 'unchanged') return;
  const barAt = barAtOf(layout.form, change.bar);
  const meter = layout.form.bars[barAt]?.meter;
  if (meter === undefined) return;
  const beats = beatsPerBar(meter);
  const from = (change.beat - 1) / beats;
  const slotWidth = 1 / (beats * subsOf(layout, barAt));
  const to = change.bySlots === null ? from : Math.min(1, from + change.bySlots * slotWidth);
  const { arrival, bySlots, toChord, slot } = change;
  const provenAt =
    change.provenAt === null ? null : Math.min(1, from + (change.provenAt - slot) * slotWidth);
  const drawing = barOf(barAt);
  drawing.changes = [...drawing.changes, { arrival, from, to, bySlots, provenAt, toChord }];
}
