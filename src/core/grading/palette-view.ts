/** A palette laid out for judging: bit sets for membership, degrees for counting palette steps. */

import { type Palette, paletteMask, paletteName, pcMask } from '../theory/palette.ts';

/** One direction of a palette. */
export interface FormView {
  readonly mask: number;
  readonly rootPc: number;
  readonly size: number;
  /** Degree from 0 by pitch class; −1 where the pitch class is not in the form. */
  readonly degrees: Int8Array;
}

export interface PaletteView {
  readonly name: string;
  /** Pitch classes open in at least one direction. */
  readonly mask: number;
  /** Pitch classes open in both. */
  readonly certainMask: number;
  readonly rising: FormView;
  readonly falling: FormView;
}

/** Lays a palette out. A one-way palette has the same form in both directions. */
export function viewPalette(palette: Palette): PaletteView {
  const rising = viewForm(palette.pcs);
  const falling = palette.falling ? viewForm(palette.falling.pcs, rising.rootPc) : rising;
  return {
    name: paletteName(palette),
    mask: paletteMask(palette),
    certainMask: rising.mask & falling.mask,
    rising,
    falling,
  };
}

function viewForm(pcs: readonly number[], rootPc = pcs[0] ?? 0): FormView {
  const degrees = new Int8Array(12).fill(-1);
  const above = [...new Set(pcs.map((pc) => (pc - rootPc + 12) % 12))].sort((a, b) => a - b);
  above.forEach((distance, degree) => {
    degrees[(rootPc + distance) % 12] = degree;
  });
  return { mask: pcMask(pcs), rootPc, size: above.length, degrees };
}

/** Whether a pitch class (0–11) is in a bit set. */
export function hasPc(mask: number, pc: number): boolean {
  return ((mask >> pc) & 1) === 1;
}

/**
 * Distance between two keys in palette steps, unsigned, or null when one of them is not in the palette. A
 * two-way palette counts in the form of the direction moved. Source: `grading.md`, "Intervals".
 */
export function paletteSteps(view: PaletteView, fromMidi: number, toMidi: number): number | null {
  const form = toMidi < fromMidi ? view.falling : view.rising;
  const from = stepNumber(form, fromMidi);
  const to = stepNumber(form, toMidi);
  return from === null || to === null ? null : Math.abs(to - from);
}

function stepNumber(form: FormView, midi: number): number | null {
  const degree = form.degrees[midi % 12] ?? -1;
  return degree < 0 ? null : Math.floor((midi - form.rootPc) / 12) * form.size + degree;
}
