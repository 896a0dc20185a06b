/** Drills with targets and the guide-tone line, held against their definitions over random charts. */

import { describe, expect, test } from 'vitest';
import { chordPcs } from '../../../../src/core/theory/index.ts';
import { forEveryDrill } from './drilled.ts';
import { isInPalette, isTwoWay, keysOf, type Slot, slotsOf, tonesTo } from './drilling.ts';

/** Slots of targets: bars and chords first, then beats, never nearer than so many slots. */
function targetsOf(slots: readonly Slot[], apart: number): readonly number[] {
  const targets: number[] = [];
  slots.forEach(({ sub, opens }, slot) => {
    const nearest = slots.findIndex((other, index) => index > slot && other.opens);
    const room = nearest < 0 ? slots.length - slot : nearest - slot;
    if (sub !== 0 || slot - (targets.at(-1) ?? -apart) < apart) return;
    if (opens || room >= apart) targets.push(slot);
  });
  return targets;
}

function expectChordTone({ chord }: Slot, midi: number): void {
  expect(chord.symbol === null ? [] : chordPcs(chord.symbol)).toContain(midi % 12);
}

describe('drills with targets', () => {
  test('approach notes: a chord tone on every target, a half step or scale step before it', () => {
    const kinds = new Set<number>();
    forEveryDrill('approachNotes', ({ midis, slots, form }) => {
      const targets = targetsOf(slots, 2);
      for (const target of targets) {
        const slot = slots[target];
        const midi = midis[target] ?? -1;
        if (slot === undefined) continue;
        expectChordTone(slot, midi);
        const before = slots[target - 1];
        if (before === undefined) continue;
        const approach = midis[target - 1] ?? -1;
        const distance = approach - midi;
        kinds.add(distance);
        expect([1, 2]).toContain(Math.abs(distance));
        if (Math.abs(distance) === 1) continue;
        expect(isInPalette(before.palette, approach)).toBe(true);
        if (!isTwoWay(form)) expect(tonesTo(before.palette, midi, approach)).toBe(distance / 2);
      }
    });
    expect([...kinds].sort()).toEqual([-1, -2, 1, 2]);
  });

  test('enclosures: the next palette tone above, the half step below, the chord tone', () => {
    forEveryDrill('enclosures', ({ midis, slots, form }) => {
      for (const target of targetsOf(slots, 3)) {
        const slot = slots[target];
        const midi = midis[target] ?? -1;
        if (slot === undefined) continue;
        expectChordTone(slot, midi);
        const before = slots[target - 2];
        if (before === undefined) continue;
        const upper = midis[target - 2] ?? -1;
        expect(midis[target - 1]).toBe(midi - 1);
        expect(upper).toBeGreaterThan(midi);
        expect(upper - midi).toBeLessThanOrEqual(4);
        expect(isInPalette(before.palette, upper)).toBe(true);
        if (!isTwoWay(form)) expect(tonesTo(before.palette, midi, upper)).toBe(1);
      }
    });
  });

  test('fill the slots between with the palette', () => {
    for (const [style, apart] of [
      ['approachNotes', 2],
      ['enclosures', 3],
    ] as const) {
      forEveryDrill(style, ({ midis, slots }) => {
        const targets = targetsOf(slots, apart);
        slots.forEach(({ palette }, slot) => {
          const next = targets.find((target) => target >= slot);
          if (next !== undefined && next - slot < apart) return;
          expect(isInPalette(palette, midis[slot] ?? -1)).toBe(true);
        });
      });
    }
  });
});

/** Degrees of the third and the seventh, and of what stands for them. Common practice, no source. */
const GUIDE_DEGREES = [
  [3, 4, 2],
  [7, 6],
];

describe('the guide-tone line', () => {
  test('has guide tones alone, each the nearest voice to the one before', () => {
    forEveryDrill('guideTones', ({ form, wish, line, midis }) => {
      const { lowestMidi, highestMidi } = wish.register;
      const halfBeats = slotsOf(form, { ...wish, slotsPerBeat: 2 }) ?? [];
      let onset = 0;
      let index = 0;
      let guidesBefore = '';
      for (const [at, slot] of halfBeats.entries()) {
        if (slot.opens) onset = at;
        // A half note is so many half-beats; a dotted one in compound meters.
        const { unit, groups } = slot.meter;
        const half = unit === 2 ? 2 : groups === undefined ? 4 : 8;
        if ((at - onset) % half !== 0) continue;
        const midi = midis[index] ?? -1;
        expect(line.notes[index]?.onsetBeats).toBe(at / 2);
        const guides = keysOf({ pcs: guidePcs(slot) }, lowestMidi, highestMidi);
        expect(guides).toContain(midi);
        const before = midis[index - 1];
        const same = guides.join() === guidesBefore;
        if (before !== undefined) {
          const open = same ? guides.filter((key) => (key - before) % 12 !== 0) : guides;
          const least = Math.min(...open.map((key) => Math.abs(key - before)));
          const pcs = guidePcs(slot).filter((pc) => !same || pc !== before % 12);
          // A voice that steps out of the register, where only a leap would stay in it, goes on an octave away.
          const steps = keysOf({ pcs }, before - 2, before + 2).toSorted(
            (one, other) => Math.abs(one - before) - Math.abs(other - before) || one - other,
          );
          const shifted = steps[0] === undefined ? null : steps[0] + (steps[0] < before ? 12 : -12);
          const goesOn = shifted !== null && shifted >= lowestMidi && shifted <= highestMidi;
          if (least > 4 && goesOn) expect(midi).toBe(shifted);
          else expect(Math.abs(midi - before)).toBe(open.length === 0 ? 0 : least);
        }
        guidesBefore = guides.join();
        index++;
      }
      expect(midis).toHaveLength(index);
    });
  });
});

/** Guide tones that are in the palette in both directions. */
function guidePcs({ chord, palette }: Slot): readonly number[] {
  const { symbol } = chord;
  if (symbol === null) return [];
  const pcs = GUIDE_DEGREES.flatMap((degrees) => {
    const degree = degrees.find((wanted) => symbol.tones.some((tone) => tone.degree === wanted));
    const tones = symbol.tones.filter((tone) => tone.degree === degree);
    return chordPcs({ ...symbol, tones });
  });
  return pcs.filter(
    (pc) => palette.pcs.includes(pc) && (palette.falling?.pcs.includes(pc) ?? true),
  );
}
