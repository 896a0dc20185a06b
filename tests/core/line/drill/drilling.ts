/** Drills written and graded for tests, and the slots of a form laid out without any of the code under test. */

import {
  beatsPerBar,
  eighthsPerBeat,
  type Form,
  type FormChord,
  type Meter,
} from '../../../../src/core/chart/index.ts';
import { gradeTake, type Report } from '../../../../src/core/grading/index.ts';
import {
  type DrillStyle,
  type DrillWish,
  takeOfLine,
  type WrittenLine,
  writeDrill,
} from '../../../../src/core/line/index.ts';
import type { Palette } from '../../../../src/core/theory/index.ts';
import type { Level } from '../../../../src/core/words.ts';
import { chartOf, formOf } from '../../chart/reading.ts';

/** Two octaves less a fourth above middle C, eighths, one chorus. */
export const WISH: DrillWish = {
  choruses: 1,
  slotsPerBeat: null,
  swing: 1,
  register: { lowestMidi: 60, highestMidi: 79 },
  seed: 1,
  startMidi: null,
};

export function formFrom(bars: string, meter = '4/4', key = 'C'): Form {
  return formOf(chartOf(`title: Pier Lights\nkey: ${key}\nmeter: ${meter}\n${bars}\n`));
}

/** Note names of a drill, or the rule and place where it ends: `span 1.3+1` is bar 1, beat 3, its second slot. */
export function drillText(form: Form, style: DrillStyle, wish: Partial<DrillWish> = {}): string {
  const line = writeDrill(form, style, { ...WISH, ...wish });
  if (line.ok) return line.value.notes.map(({ name }) => name).join(' ');
  return line.problems
    .map((problem) =>
      problem.code === 'drill'
        ? `${problem.rule} ${problem.bar}.${problem.beat}+${problem.sub}`
        : problem.code,
    )
    .join();
}

export function gradeDrill(form: Form, line: WrittenLine, level: Level = line.level): Report {
  const { choruses, slotsPerBeat, swing } = line;
  return gradeTake(form, takeOfLine(line, 90), {
    ...{ level, choruses, slotsPerBeat, swing },
    tempo: { kind: 'steady', tempoBpm: 90 },
  });
}

export interface Slot {
  /** The chord in force, under `N.C.` the one heard last, before any the first. */
  readonly chord: FormChord;
  readonly palette: Palette;
  readonly meter: Meter;
  readonly beat: number;
  readonly sub: number;
  readonly opens: boolean;
}

/** All slots of all choruses; null for a form without chords. */
export function slotsOf(form: Form, { choruses, slotsPerBeat }: DrillWish): readonly Slot[] | null {
  const all = form.bars.flatMap(({ chords }) => chords);
  let heard = all.find(({ chosen }) => chosen !== null) ?? null;
  const slots: Slot[] = [];
  for (let chorus = 0; chorus < choruses; chorus++) {
    for (const { meter, chords } of form.bars) {
      for (let beat = 1; beat <= beatsPerBar(meter); beat++) {
        const perBeat = slotsPerBeat ?? eighthsPerBeat(meter);
        for (let sub = 0; sub < perBeat; sub++) {
          const isBegun = (chord: FormChord): boolean =>
            Math.ceil((chord.beat - 1) * perBeat) === (beat - 1) * perBeat + sub;
          // Of chords that begin before the same slot the last is in force.
          const begun = chords.findLast(isBegun) ?? null;
          if (begun?.chosen) heard = begun;
          if (heard === null || heard.chosen === null) return null;
          const { palette } = heard.chosen;
          const opens = (sub === 0 && beat === 1) || begun !== null;
          slots.push({ chord: heard, palette, meter, beat, sub, opens });
        }
      }
    }
  }
  return slots;
}

export function isTwoWay(form: Form): boolean {
  return form.bars.some(({ chords }) =>
    chords.some(({ chosen }) => (chosen?.palette.falling ?? null) !== null),
  );
}

/** Whether a key's pitch class is in a palette in some direction. */
export function isInPalette({ pcs, falling }: Palette, midi: number): boolean {
  return pcs.includes(midi % 12) || (falling?.pcs.includes(midi % 12) ?? false);
}

/** The palette's tones between two keys, the second counted, the first not; signed by direction. */
export function tonesTo(palette: Palette, from: number, to: number): number {
  let tones = 0;
  for (let midi = from; midi !== to; ) {
    midi += Math.sign(to - from);
    if (isInPalette(palette, midi)) tones += Math.sign(to - from);
  }
  return tones;
}

/** The keys of pitch classes from one key to another, both included, rising. */
export function keysOf(
  palette: { readonly pcs: readonly number[] },
  lowest: number,
  highest: number,
): readonly number[] {
  const keys: number[] = [];
  for (let midi = lowest; midi <= highest; midi++) {
    if (palette.pcs.includes(midi % 12)) keys.push(midi);
  }
  return keys;
}
