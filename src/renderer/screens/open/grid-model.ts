/** Notes of a file against the grid of a form: what the preview draws, and how well the two fit. Pure. */

import { median } from 'simple-statistics';
import type { TakeSetUp } from '../../../../shared/bridge/index.ts';
import { beatsPerBar, type Form } from '../../../core/chart/index.ts';
import { createBeatClock, createSlotGrid } from '../../../core/grid/index.ts';
import type { TakeEvent, TakeEvents } from '../../../core/take/model.ts';
import { gradedSources, sourceOf } from '../../../core/take/sources.ts';

export interface GridLine {
  readonly atMs: number;
  /** Chorus and bar at a bar line; null at a beat within a bar. */
  readonly bar: { readonly chorus: number; readonly bar: number; readonly chords: string } | null;
}

export interface GridNote {
  readonly atMs: number;
  readonly midi: number;
  readonly isLeftHand: boolean;
}

export interface GridPreview {
  readonly fromMs: number;
  readonly toMs: number;
  readonly lines: readonly GridLine[];
  readonly notes: readonly GridNote[];
}

/** Notes drawn at a time: nobody plays a thousand in four bars, and a file may hold a million. */
export const MOST_DRAWN = 1000;

/** The keys the drawing reaches over: an octave from C4 at least, and a little beyond the notes. */
export function keyRange(notes: readonly GridNote[]): {
  readonly low: number;
  readonly high: number;
} {
  return {
    low: notes.reduce((lowest, { midi }) => Math.min(lowest, midi), 60) - 2,
    high: notes.reduce((highest, { midi }) => Math.max(highest, midi), 72) + 2,
  };
}

/** Bars shown at a time. */
export const PREVIEW_BARS = 4;

/** The notes and lines of `PREVIEW_BARS` bars from one on, counted from 0 through all choruses, and a beat before. */
export function previewGrid(
  form: Form,
  grade: TakeSetUp['grade'],
  take: TakeEvents,
  firstBar: number,
): GridPreview {
  const clock = createBeatClock(form, grade.tempo);
  const chorusBeats = form.bars.reduce((sum, { meter }) => sum + beatsPerBar(meter), 0);
  const lines: GridLine[] = [];
  let beat = Math.floor(firstBar / form.bars.length) * chorusBeats;
  for (const { meter } of form.bars.slice(0, firstBar % form.bars.length)) {
    beat += beatsPerBar(meter);
  }
  const firstBeat = beat;
  for (let place = firstBar; place < firstBar + PREVIEW_BARS; place++) {
    const bar = form.bars[place % form.bars.length];
    if (bar === undefined) break;
    const chords = bar.chords.map(({ symbol }) => symbol?.text ?? 'N.C.').join(' ');
    const chorus = Math.floor(place / form.bars.length) + 1;
    for (let count = 0; count < beatsPerBar(bar.meter); count++) {
      const atMs = clock.timeMs(beat + count);
      lines.push({ atMs, bar: count === 0 ? { chorus, bar: bar.bar, chords } : null });
    }
    beat += beatsPerBar(bar.meter);
  }
  const fromMs = clock.timeMs(firstBeat) - clock.beatMs(firstBeat);
  const toMs = clock.timeMs(beat);
  const notes = playedNotes(take, grade)
    .filter(({ atMs }) => atMs >= fromMs && atMs <= toMs)
    .slice(0, MOST_DRAWN);
  return { fromMs, toMs, lines, notes };
}

function isKeyDown(event: TakeEvent): event is TakeEvent & { readonly kind: 'noteOn' } {
  return event.kind === 'noteOn' && event.velocity > 0;
}

/** The notes as they are graded: latency taken off, the hands parted. */
function playedNotes(take: TakeEvents, grade: TakeSetUp['grade']): readonly GridNote[] {
  const sources = gradedSources(take.sources, grade);
  return take.events.filter(isKeyDown).map((event) => {
    const { latencyMs, splitMidi } = sourceOf(event, sources);
    const { atMs, midi } = event;
    return { atMs: atMs - latencyMs, midi, isLeftHand: splitMidi !== null && midi < splitMidi };
  });
}

/**
 * The median distance of the line's notes from the nearest slot, ms; null without notes. The smaller, the better the
 * tempo and the first downbeat fit; a quarter of a slot is what chance gives.
 */
export function gridFit(form: Form, grade: TakeSetUp['grade'], take: TakeEvents): number | null {
  const { tempo, slotsPerBeat, swing } = grade;
  const clock = createBeatClock(form, tempo);
  const grid = createSlotGrid(form, clock, { slotsPerBeat, swing, choruses: null });
  const distances = playedNotes(take, grade)
    .filter(({ isLeftHand }) => !isLeftHand)
    .map(({ atMs }) => {
      const beat = Math.floor(clock.beatAt(atMs));
      const from = firstSlotOfBeat(grid, beat);
      let nearest = Number.POSITIVE_INFINITY;
      for (let slot = from - 1; slot <= from + 5; slot++) {
        nearest = Math.min(nearest, Math.abs(grid.timeMs(slot) - atMs));
      }
      return nearest;
    });
  return distances.length === 0 ? null : median(distances);
}

function firstSlotOfBeat(grid: ReturnType<typeof createSlotGrid>, beat: number): number {
  const chorus = Math.floor(beat / grid.beatsPerChorus);
  const within = beat - chorus * grid.beatsPerChorus;
  const at = grid.slots.findIndex(({ beatInChorus }) => beatInChorus === within);
  return chorus * grid.slotsPerChorus + at;
}

/** Where a first downbeat may lie: ms in the file, and why. */
export interface DownbeatChoice {
  readonly startMs: number;
  readonly words: string;
}

/** The start of the file, its first note, and the marked downbeat where that is elsewhere. */
export function downbeatChoices(
  markedMs: number,
  events: readonly TakeEvent[],
): readonly DownbeatChoice[] {
  const first = events.find(isKeyDown);
  const choices: DownbeatChoice[] = [{ startMs: 0, words: 'start of the file' }];
  if (markedMs !== 0) choices.push({ startMs: markedMs, words: 'marked in the file' });
  if (first !== undefined) {
    choices.push({ startMs: Math.round(markedMs + first.atMs), words: 'first note' });
  }
  return choices;
}
