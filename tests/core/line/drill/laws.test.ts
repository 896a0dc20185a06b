/** What holds for every drill over random charts, by the word of the grader and by each drill's definition. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Form } from '../../../../src/core/chart/index.ts';
import {
  DRILLS,
  type DrillProblem,
  type DrillStyle,
  type DrillWish,
  type WrittenLine,
  writeDrill,
} from '../../../../src/core/line/index.ts';
import { chordPcs } from '../../../../src/core/theory/index.ts';
import { LEVELS } from '../../../../src/core/words.ts';
import { arbitraryForm, arbitraryFormOf, arbitraryWish } from '../../../helpers/arbitrary-wish.ts';
import { gradeDrill, isInPalette, isTwoWay, type Slot, slotsOf, tonesTo } from './drilling.ts';

const SEED = 20_261_126;
const CASES = 250;

/** Any palettes a writer may name and any register; and palettes the program chose, with room of two octaves and a half. */
const ANY = fc.sample(fc.tuple(arbitraryForm, arbitraryWish), { numRuns: CASES, seed: SEED });
const ROOMY = fc.sample(
  fc.tuple(
    arbitraryFormOf({ givenPalettes: false }),
    arbitraryWish.map((wish) => ({ ...wish, register: { lowestMidi: 50, highestMidi: 80 } })),
  ),
  { numRuns: CASES, seed: SEED },
);

interface WrittenDrill {
  readonly form: Form;
  readonly wish: DrillWish;
  readonly line: WrittenLine;
  readonly midis: readonly number[];
  readonly slots: readonly Slot[];
}

interface Drilled {
  readonly written: readonly WrittenDrill[];
  readonly problems: readonly DrillProblem[];
}

function drillAll(cases: readonly (readonly [Form, DrillWish])[], style: DrillStyle): Drilled {
  const written: WrittenDrill[] = [];
  const problems: DrillProblem[] = [];
  for (const [form, wish] of cases) {
    const line = writeDrill(form, style, wish);
    if (!line.ok) {
      problems.push(...line.problems);
      continue;
    }
    const midis = line.value.notes.map(({ midi }) => midi);
    written.push({ form, wish, line: line.value, midis, slots: slotsOf(form, wish) ?? [] });
  }
  return { written, problems };
}

const known = new Map<DrillStyle, readonly WrittenDrill[]>();

/** Every drill of a style that could be written. */
function drills(style: DrillStyle): readonly WrittenDrill[] {
  const found = known.get(style) ?? drillAll([...ANY, ...ROOMY], style).written;
  known.set(style, found);
  return found;
}

function forEveryDrill(style: DrillStyle, law: (drill: WrittenDrill) => void): void {
  drills(style).forEach(law);
}

describe(`over ${2 * CASES} random charts, plans, meters and registers`, () => {
  test.each(DRILLS.map(({ style, level }) => [style, level] as const))(
    '%s is clean at its level, not at a lower one from %s up, and keeps to the register',
    (style, own) => {
      forEveryDrill(style, ({ form, wish, line, midis }) => {
        const report = gradeDrill(form, line);
        expect(report.slots.flatMap(({ faults }) => faults)).toEqual([]);
        expect(report.extras).toEqual([]);
        expect(report.summary.slots).toBe(midis.length);
        expect(report.summary.unplayed).toBe(0);
        expect(line.notes.map(({ name }) => name)).toEqual(
          report.slots.map(({ note }) => note?.name),
        );
        for (const level of LEVELS.slice(LEVELS.indexOf(own), LEVELS.indexOf(line.level))) {
          expect(gradeDrill(form, line, level).summary.clean).toBeLessThan(midis.length);
        }
        for (const midi of midis) {
          expect(midi).toBeGreaterThanOrEqual(wish.register.lowestMidi);
          expect(midi).toBeLessThanOrEqual(wish.register.highestMidi);
        }
        expect(writeDrill(form, style, wish)).toEqual({ ok: true, value: line });
      });
    },
  );

  test.each(DRILLS.map(({ style, varies }) => [style, varies] as const))(
    '%s: that other seeds give other notes is %s',
    (style, varies) => {
      const differs = drills(style).map(({ form, wish, midis }) => {
        const other = writeDrill(form, style, { ...wish, seed: wish.seed + 1 });
        return !other.ok || other.value.notes.some(({ midi }, slot) => midi !== midis[slot]);
      });
      expect(differs.includes(true)).toBe(varies);
    },
  );

  test.each(DRILLS.map(({ style }) => style))(
    '%s: where there is none, the place is told',
    (style) => {
      const any = drillAll(ANY, style);
      expect(any.written.length).toBeGreaterThan(0);
      expect(any.problems.map(({ code }) => code)).toEqual(any.problems.map(() => 'drill'));
      // With room, and palettes that hold their chords, nothing is in the way but bars without a chord.
      const { problems } = drillAll(ROOMY, style);
      const rules = problems.map((problem) =>
        problem.code === 'drill' ? problem.rule : problem.code,
      );
      expect(rules).toEqual(problems.map(() => 'noChord'));
    },
  );
});

const IN_PALETTE = ['continuousScale', 'ascending', 'brokenThirds', 'brokenSevenths'] as const;

describe('drills that run through the palette', () => {
  test.each(IN_PALETTE)('%s has every slot in the palette that sounds there', (style) => {
    forEveryDrill(style, ({ midis, slots }) => {
      expect(midis).toHaveLength(slots.length);
      slots.forEach(({ palette }, slot) => {
        expect(isInPalette(palette, midis[slot] ?? -1)).toBe(true);
      });
    });
  });

  test('continuous scale: every move is to the next tone, and turns only where the register ends', () => {
    forEveryDrill('continuousScale', ({ form, wish, midis, slots }) => {
      if (isTwoWay(form)) return;
      const { lowestMidi, highestMidi } = wish.register;
      let direction = 1;
      slots.forEach(({ palette }, slot) => {
        const keys = keysOf(palette, lowestMidi, highestMidi);
        const before = midis[slot - 1];
        if (before === undefined) {
          expect(midis[slot]).toBe(keys[0]);
          return;
        }
        const up = keys.find((key) => key > before);
        const down = keys.findLast((key) => key < before);
        const onward = direction === 1 ? up : down;
        expect(midis[slot]).toBe(onward ?? (direction === 1 ? down : up));
        direction = Math.sign((midis[slot] ?? 0) - before);
      });
    });
  });

  test('ascending: every move is to the next tone above, or to the lowest key of its pitch class', () => {
    forEveryDrill('ascending', ({ form, wish, midis, slots }) => {
      if (isTwoWay(form)) return;
      const { lowestMidi, highestMidi } = wish.register;
      slots.forEach(({ palette }, slot) => {
        const before = midis[slot - 1];
        if (before === undefined) return;
        const next = keysOf(palette, before + 1, before + 12)[0] ?? -1;
        const lowest = keysOf({ ...palette, pcs: [next % 12] }, lowestMidi, highestMidi)[0];
        expect(midis[slot]).toBe(next <= highestMidi ? next : lowest);
      });
    });
  });

  test('broken thirds: two tones on and one back in turn', () => {
    forEveryDrill('brokenThirds', ({ form, midis, slots }) => {
      if (isTwoWay(form)) return;
      slots.forEach(({ palette }, slot) => {
        const before = midis[slot - 1];
        if (before === undefined) return;
        const tones = tonesTo(palette, before, midis[slot] ?? 0);
        expect(Math.abs(tones)).toBe(slot % 2 === 1 ? 2 : 1);
      });
    });
  });

  test('broken sevenths: every second tone, four of them, then the nearest root with room', () => {
    forEveryDrill('brokenSevenths', ({ form, wish, midis, slots }) => {
      if (isTwoWay(form)) return;
      const hasRoom = (slot: number, root: number): boolean => {
        let midi = root;
        return slots.slice(slot, slot + 4).every(({ palette }, index) => {
          if (index > 0) midi = keysOf(palette, midi + 1, midi + 24)[1] ?? 128;
          return midi <= wish.register.highestMidi;
        });
      };
      slots.forEach(({ palette }, slot) => {
        const midi = midis[slot] ?? -1;
        const before = midis[slot % 4 === 0 ? slot - 4 : slot - 1];
        if (before === undefined) return;
        if (slot % 4 !== 0) {
          expect(tonesTo(palette, before, midi)).toBe(2);
          return;
        }
        expect(midi).not.toBe(before);
        const between = keysOf(palette, Math.min(before, midi) + 1, Math.max(before, midi) - 1);
        expect(between.filter((root) => hasRoom(slot, root))).toEqual([]);
      });
    });
  });

  test('stay at the level they are made for over every palette of seven tones and more', () => {
    let seen = 0;
    for (const { style, level } of DRILLS.filter((drill) => IN_PALETTE.some(isStyle(drill)))) {
      forEveryDrill(style, ({ form, line }) => {
        if (isTwoWay(form)) return;
        // Under `N.C.` the grader has no palette to count steps in.
        const isFull = form.bars.every(({ chords }) =>
          chords.every(({ chosen }) => chosen !== null && chosen.palette.pcs.length >= 7),
        );
        if (!isFull) return;
        seen++;
        expect(line.level).toBe(level);
      });
    }
    expect(seen).toBeGreaterThan(100);
  });
});

function isStyle({ style }: { readonly style: DrillStyle }): (other: DrillStyle) => boolean {
  return (other) => other === style;
}

function keysOf(
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
  test('has guide tones alone, each the nearest to the one before', () => {
    forEveryDrill('guideTones', ({ form, wish, line, midis }) => {
      const { lowestMidi, highestMidi } = wish.register;
      const halves = slotsOf(form, { ...wish, slotsPerBeat: 1 }) ?? [];
      let onset = 0;
      let index = 0;
      let guidesBefore = '';
      for (const [beat, slot] of halves.entries()) {
        if (slot.opens) onset = beat;
        if ((beat - onset) % 2 !== 0) continue;
        const midi = midis[index] ?? -1;
        expect(line.notes[index]?.onsetBeats).toBe(beat);
        const guides = keysOf({ pcs: guidePcs(slot) }, lowestMidi, highestMidi);
        expect(guides).toContain(midi);
        const before = midis[index - 1];
        const same = guides.join() === guidesBefore;
        if (before !== undefined) {
          const open = same ? guides.filter((key) => (key - before) % 12 !== 0) : guides;
          const least = Math.min(...open.map((key) => Math.abs(key - before)));
          expect(Math.abs(midi - before)).toBe(open.length === 0 ? 0 : least);
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
