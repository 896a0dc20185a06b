/** Which chord and palette are in force, and what changes with the next. Pure. */

import { beatsPerBar, type Form, type FormChord, PICKUP_BAR } from '../../core/chart/index.ts';
import { pickupChordAt } from '../../core/score/index.ts';

export interface PlaceInForm {
  readonly chorus: number;
  /** As numbered in the form; `PICKUP_BAR` in the pickup. */
  readonly bar: number;
  /** The beat under way, from 1; in the pickup of its short bar. */
  readonly beat: number;
  readonly chord: FormChord;
  readonly next: FormChord;
  /** Beats until the next chord. */
  readonly beatsLeft: number;
}

/**
 * Where a beat position of a take lies (0 = first downbeat); before it, the chord of the pickup is in force, or the first.
 * The next chord is the next that is another one: a chord placed again is no news.
 */
export function placeInForm(form: Form, beat: number): PlaceInForm | null {
  const placed = form.bars.flatMap(({ bar, chords }) => chords.map((chord) => ({ bar, chord })));
  const beats = placed.reduce((sum, { chord }) => sum + chord.beats, 0);
  if (beats === 0) return null;
  if (form.pickup !== null && beat < 0 && beat >= -form.pickup.beats) {
    return placeInPickup(form, beat);
  }
  const chorus = Math.max(0, Math.floor(beat / beats));
  let end = chorus * beats;
  for (const [index, { bar, chord }] of placed.entries()) {
    end += chord.beats;
    if (beat >= end) continue;
    let next = chord;
    let beatsLeft = end - Math.max(beat, 0);
    for (let ahead = 1; ahead <= placed.length; ahead++) {
      next = placed[(index + ahead) % placed.length]?.chord ?? chord;
      if (next.symbol?.text !== chord.symbol?.text) break;
      beatsLeft += next.beats;
    }
    const intoChord = chord.beats - (end - Math.max(beat, 0));
    const place = { chorus: chorus + 1, bar, beat: chord.beat + Math.floor(intoChord) };
    return { ...place, chord, next, beatsLeft };
  }
  return null;
}

function placeInPickup(form: Form, beat: number): PlaceInForm | null {
  const first = placeInForm(form, 0);
  const chord = pickupChordAt(form, beat);
  if (first === null || chord === undefined) return null;
  const shortBar = beatsPerBar((form.pickup ?? form).meter);
  const place = { chorus: 1, bar: PICKUP_BAR, beat: shortBar + Math.floor(beat) + 1, chord };
  for (let at = Math.floor(beat) + 1; at <= 0; at++) {
    const next = at === 0 ? first.chord : pickupChordAt(form, at);
    const isOther = next !== undefined && next.symbol?.text !== chord.symbol?.text;
    if (isOther) return { ...place, next, beatsLeft: at - beat };
  }
  return { ...place, next: first.next, beatsLeft: first.beatsLeft - beat };
}

export interface ToneMove {
  readonly note: string;
  readonly pc: number;
  /** `stays` is in both palettes, `leaves` only in the present one, `arrives` only in the next. */
  readonly move: 'stays' | 'leaves' | 'arrives';
}

/** The tones of the palette now and of the one to come, in the order of the keyboard from C. */
export function toneMoves(now: FormChord, next: FormChord): readonly ToneMove[] {
  const present = now.chosen?.palette;
  const coming = next.chosen?.palette;
  const comingPcs = new Set(coming?.pcs ?? present?.pcs);
  const presentPcs = new Set(present?.pcs);
  const moves: ToneMove[] = [];
  present?.pcs.forEach((pc, index) => {
    const note = present.notes[index] ?? '';
    moves.push({ note, pc, move: comingPcs.has(pc) ? 'stays' : 'leaves' });
  });
  coming?.pcs.forEach((pc, index) => {
    if (!presentPcs.has(pc)) moves.push({ note: coming.notes[index] ?? '', pc, move: 'arrives' });
  });
  return moves.sort((a, b) => a.pc - b.pc);
}
