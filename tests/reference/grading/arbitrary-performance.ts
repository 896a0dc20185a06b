/** Random forms of mixed meters, and lines over them that are nearly right: what players do, and the edges of the rules. */

import fc from 'fast-check';
import type { Form, FormBar } from '../../../src/core/chart/index.ts';
import { beatsPerBar, METERS } from '../../../src/core/chart/index.ts';
import { completeSettings, type GradeSettings } from '../../../src/core/grading/index.ts';
import type { TakeEvent, TakeEvents } from '../../../src/core/take/model.ts';
import {
  C_BOTH_WAYS,
  C_DORIAN,
  C_IONIAN,
  C_MINOR,
  D_DORIAN,
  formOf,
  inOrder,
  palette,
  symbol,
} from '../../helpers/hand-made.ts';
import { paletteOf, pcsOf } from './judge.ts';
import { perform, slotsOf } from './places.ts';

const PALETTES = [
  C_IONIAN,
  C_DORIAN,
  C_MINOR,
  D_DORIAN,
  C_BOTH_WAYS,
  palette('whole tone', 'D E F# G# A# C'),
  palette('minor pentatonic', 'D F G A C'),
  palette('altered', 'G Ab Bb Cb Db Eb F'),
  null,
];

const anyChords = fc
  .array(fc.tuple(fc.constantFrom(...PALETTES), fc.constantFrom('C', 'D', 'G', 'Bb')), {
    minLength: 1,
    maxLength: 4,
  })
  .map((chords) => chords.map(([over, root]) => ({ over, root })));

/** One to five bars, each of its own meter, with up to four chords on its first beats or half-beats. */
export const anyMixedForm: fc.Arbitrary<Form> = fc
  .array(fc.tuple(fc.constantFrom(...METERS), anyChords, fc.constantFrom(1, 1, 0.5)), {
    minLength: 1,
    maxLength: 5,
  })
  .map((bars) => {
    const [first] = bars;
    const laid = bars.map(([meter, chords, each], index): FormBar => {
      const beats = beatsPerBar(meter);
      const used = chords.slice(0, beats / each);
      const placed = used.map(({ over, root }, at) => ({
        beats: at === used.length - 1 ? beats - at * each : each,
        palette: over,
        symbol: symbol(root, root, at % 2 === 1 ? 'E' : undefined),
      }));
      const [bar] = formOf([placed], meter).bars;
      if (bar === undefined) throw new Error('a form without a bar');
      return { ...bar, bar: index + 1, meter };
    });
    const form = formOf([[{ beats: 4, palette: null }]], first?.[0]);
    return { ...form, bars: laid };
  });

const anyMove = fc.record({
  /** Where among the near keys the next note lies; mostly close by. */
  toward: fc.oneof(
    { weight: 6, arbitrary: fc.constantFrom(-2, -1, 1, 2) },
    { weight: 1, arbitrary: fc.constantFrom(-7, -5, -4, -3, 0, 3, 4, 5) },
  ),
  /** Rarely any key there is in place of one of the palette. */
  isAnyKey: fc.oneof(
    { weight: 5, arbitrary: fc.constant(false) },
    { weight: 1, arbitrary: fc.constant(true) },
  ),
  /** Share of a slot that it lies off. */
  off: fc.oneof(
    { weight: 8, arbitrary: fc.double({ min: -0.12, max: 0.12, noNaN: true }) },
    { weight: 1, arbitrary: fc.double({ min: -0.9, max: 0.9, noNaN: true }) },
  ),
  event: fc.oneof(
    { weight: 12, arbitrary: fc.constant('note' as const) },
    {
      weight: 1,
      arbitrary: fc.constantFrom('gap', 'double', 'bass', 'low', 'twice', 'allOff', 'old' as const),
    },
  ),
  velocity: fc.integer({ min: 1, max: 127 }),
  hold: fc.double({ min: 0.1, max: 2.5, noNaN: true }),
});

/** A line over a form: notes of its palettes by small intervals, with slips of every kind. */
export function sloppyTake(form: Form, given: GradeSettings): fc.Arbitrary<TakeEvents> {
  const settings = completeSettings(given);
  const played = perform(form, settings, 4);
  const slots = slotsOf(played, settings);
  return fc
    .array(anyMove, { minLength: 1, maxLength: Math.min(slots.length - 2, 60) })
    .map((moves) => {
      const events: TakeEvent[] = [];
      let midi = 66;
      moves.forEach(({ toward, isAnyKey, off, event, velocity, hold }, index) => {
        const slot = slots[index];
        const next = slots[index + 1];
        if (slot === undefined || next === undefined || event === 'gap') return;
        const lengthMs = next.nominalMs - slot.nominalMs;
        const over = paletteOf(played, event === 'old' ? Math.max(0, slot.chord - 1) : slot.chord);
        const pcs = over === null || isAnyKey ? null : pcsOf(over);
        midi = Math.min(84, Math.max(56, midi + toward));
        while (pcs !== null && !pcs.has(midi % 12)) midi += toward < 0 ? -1 : 1;
        const atMs = slot.nominalMs + off * lengthMs + (settings.latencyMs ?? 0);
        const press = (key: number, ms: number, loud = velocity): void => {
          events.push({ kind: 'noteOn', atMs: ms, midi: key, velocity: loud });
          events.push({ kind: 'noteOff', atMs: ms + hold * lengthMs, midi: key });
        };
        press(midi, atMs);
        if (event === 'double') press(midi + 4, atMs + 12.5);
        if (event === 'twice') press(midi + 1, atMs + 0.3 * lengthMs);
        if (event === 'bass') press(48 + (index % 5), atMs + 3);
        if (event === 'low') press(43, atMs - 0.2 * lengthMs);
        if (event === 'allOff')
          events.push({ kind: 'allOff', atMs: atMs + 0.5 * lengthMs, cause: 'disconnect' });
      });
      return inOrder(events);
    });
}
