/** A form laid out for judging: its chords in order, their palettes as bit sets, and where the changes lie. */

import { type Form, type FormChord, NO_CHORD } from '../chart/index.ts';
import { chordPcs, makeSpeller } from '../theory/index.ts';
import { pcMask } from '../theory/palette.ts';
import { tonePc } from '../theory/tone.ts';
import { type PaletteView, viewPalette } from './palette-view.ts';

/** What the boundary before a chord is. */
export type Boundary =
  /** The palette's pitch-class set differs: a change. */
  | 'change'
  /** Another chord or palette name over the same pitch-class set. */
  | 'unchanged'
  /** The same chord again, or no chord on one side: nothing to prove. */
  | 'none';

/** A chord as notes are judged by it, wherever it stands. */
export interface LaidChord {
  readonly symbolText: string;
  readonly paletteText: string;
  /** Null under `N.C.`: nothing is outside. */
  readonly palette: PaletteView | null;
  readonly chordMask: number;
  /** What the left hand owes; null under `N.C.`. */
  readonly bassPc: number | null;
  /** Spells a key as it is read over this chord. */
  spell(midi: number): string;
}

export interface CourseChord extends LaidChord {
  readonly barIndex: number;
  /** From 1 in its bar. */
  readonly beat: number;
  /** Beats from the start of the chorus, from 0. */
  readonly beatInChorus: number;
  /** The boundary from the chord before, the last chord of the form for the first one. */
  readonly boundary: Boundary;
}

export interface Course {
  readonly form: Form;
  readonly chords: readonly CourseChord[];
  /** Beats in one chorus. */
  readonly beats: number;
  /** The chord that comes after the last bar. */
  readonly next: LaidChord | undefined;
}

const NO_PALETTE = 'none';

/** Lays a form out for judging. The form must have at least one bar. */
export function layCourse(form: Form): Course {
  const placed: { chord: FormChord; barIndex: number; beatInChorus: number }[] = [];
  let barStart = 0;
  form.bars.forEach((bar, barIndex) => {
    for (const chord of bar.chords) {
      placed.push({ chord, barIndex, beatInChorus: barStart + chord.beat - 1 });
    }
    barStart += bar.chords.reduce((beats, chord) => beats + chord.beats, 0);
  });

  const views = new Map<object, PaletteView>();
  function lay({ symbol, chosen }: FormChord): LaidChord {
    const source = chosen?.palette ?? null;
    const palette = source === null ? null : (views.get(source) ?? viewPalette(source));
    if (source !== null && palette !== null) views.set(source, palette);
    const spell = makeSpeller({ palette: source, symbol, key: form.key });
    const names: (string | undefined)[] = [];
    return {
      symbolText: symbol?.text ?? NO_CHORD,
      paletteText: palette?.name ?? NO_PALETTE,
      palette,
      chordMask: symbol === null ? 0 : pcMask(chordPcs(symbol)),
      bassPc: symbol === null ? null : tonePc(symbol.bass ?? symbol.root),
      spell: (midi: number) => {
        const name = names[midi] ?? spell(midi);
        names[midi] = name;
        return name;
      },
    };
  }
  const bare = placed.map(({ chord, barIndex, beatInChorus }) => ({
    ...{ barIndex, beat: chord.beat, beatInChorus },
    ...lay(chord),
  }));
  return {
    form,
    beats: barStart,
    next: form.next === null ? bare[0] : lay(form.next),
    chords: bare.map((chord, index) => ({
      ...chord,
      boundary: boundaryBetween(bare[(index + bare.length - 1) % bare.length], chord),
    })),
  };
}

type Side = Pick<CourseChord, 'palette' | 'symbolText' | 'paletteText'>;

/** Source: `grading.md`, "Words" and "Changes". A chord after `N.C.` has no palette to leave, so it is no change. */
function boundaryBetween(from: Side | undefined, to: Side): Boundary {
  if (from === undefined || from.palette === null || to.palette === null) return 'none';
  if (from.palette.mask !== to.palette.mask) return 'change';
  const same = from.symbolText === to.symbolText && from.paletteText === to.paletteText;
  return same ? 'none' : 'unchanged';
}
