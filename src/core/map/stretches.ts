/** The stretches of a form: its chords in order, each for as long as its palette lasts. */

import type { Form } from '../chart/index.ts';
import { type Course, layCourse } from '../grading/course.ts';
import type { MapPlace } from './model.ts';

export interface Stretch {
  readonly place: MapPlace;
  readonly chord: string;
  readonly palette: string;
  /** Pitch classes in the order of the palette, rising, then those of its falling form alone; empty under `N.C.` */
  readonly pcs: readonly number[];
  /** Names of `pcs`, in the same order. */
  readonly names: readonly string[];
  /** Whether the palette differs from the one before it, so that there is a change to cross. */
  readonly isChange: boolean;
}

export interface Stretches {
  readonly all: readonly Stretch[];
  /** Index of the stretch at a beat of a bar, both from 1; the beat may be a fraction. −1 for a bar that is not in the form. */
  at(bar: number, beat: number): number;
}

/** Lays the stretches of one chorus of a form out. The form must have at least one bar. */
export function layStretches(form: Form): Stretches {
  const chords = layCourse(form).chords;
  const all: Stretch[] = [];
  const starts = new Map<number, { readonly beat: number; readonly stretch: number }[]>();
  chords.forEach((chord, index) => {
    const bar = form.bars[chord.barIndex];
    if (bar === undefined) return;
    const last = all.at(-1);
    const goesOn = index > 0 && chord.boundary === 'none' && isSame(chord, chords[index - 1]);
    if (goesOn && last !== undefined) {
      all[all.length - 1] = { ...last, place: { ...last.place, toBar: bar.bar } };
    } else {
      const chosen = bar.chords.find(({ beat }) => beat === chord.beat)?.chosen?.palette;
      const { pcs, names } = tonesOf(chosen ?? null);
      all.push({
        place: { bar: bar.bar, beat: chord.beat, toBar: bar.bar },
        ...{ chord: chord.symbolText, palette: chord.paletteText, pcs, names },
        isChange: chord.boundary === 'change',
      });
    }
    const inBar = starts.get(bar.bar) ?? [];
    inBar.push({ beat: chord.beat, stretch: all.length - 1 });
    starts.set(bar.bar, inBar);
  });
  return {
    all,
    at: (bar, beat) => starts.get(bar)?.findLast((start) => start.beat <= beat)?.stretch ?? -1,
  };
}

type CourseChord = Course['chords'][number];

function isSame(chord: CourseChord, before: CourseChord | undefined): boolean {
  return chord.symbolText === before?.symbolText && chord.paletteText === before.paletteText;
}

interface TonesInOrder {
  readonly pcs: readonly number[];
  readonly notes: readonly string[];
}

function tonesOf(palette: (TonesInOrder & { readonly falling: TonesInOrder | null }) | null) {
  const names = new Map<number, string>();
  for (const form of [palette, palette?.falling]) {
    form?.pcs.forEach((pc, index) => {
      if (!names.has(pc)) names.set(pc, form.notes[index] ?? '');
    });
  }
  return { pcs: [...names.keys()], names: [...names.values()] };
}
