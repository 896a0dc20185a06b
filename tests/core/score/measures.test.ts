/** Written music: what the bars say when they are read back is what was to be written. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { beatsPerBar, type Form, unrollForm } from '../../../src/core/chart/index.ts';
import { gradeTake } from '../../../src/core/grading/index.ts';
import { takeMeasures } from '../../../src/core/score/index.ts';
import { layMeasures, type Measure } from '../../../src/core/score/measures.ts';
import type { Sound } from '../../../src/core/score/sounds.ts';
import type { TakeEvent } from '../../../src/core/take/model.ts';
import { plainTake } from '../../../src/core/take/sources.ts';
import { arbitraryChart } from '../../helpers/arbitrary-chart.ts';
import { anySettings, anyTake } from '../../helpers/arbitrary-take.ts';
import { formFromText } from '../../helpers/form-from-text.ts';
import { runs } from '../../helpers/runs.ts';

/** The sounds of measures in twelfths of a beat, tied notes as one. */
function readBack(measures: readonly Measure[]): readonly Sound[] {
  const sounds: { from: number; length: number; name: string; slot: number }[] = [];
  let at = 0;
  for (const { beats } of measures) {
    for (const { name, slot, length, tiedFrom } of beats.flatMap(({ notes }) => notes)) {
      const twelfths = length * 12;
      const last = sounds.at(-1);
      if (tiedFrom && last !== undefined) last.length += twelfths;
      else if (name !== null) sounds.push({ from: at, length: twelfths, name, slot: slot ?? -1 });
      at += twelfths;
    }
  }
  return sounds.map((sound) => ({
    ...sound,
    from: Math.round(sound.from),
    length: Math.round(sound.length),
  }));
}

const anyForm: fc.Arbitrary<Form> = arbitraryChart().map((chart) => {
  const form = unrollForm(chart, 'plain');
  if (!form.ok) throw new Error('plain is missing');
  return form.value;
});

/** Sounds and silences end to end over some choruses, the last one cut at the end. */
function soundsOver(form: Form, steps: readonly (readonly [number, number])[]): readonly Sound[] {
  const end = 12 * form.bars.reduce((sum, { meter }) => sum + beatsPerBar(meter), 0);
  let at = 0;
  return steps.flatMap(([silence, length], slot) => {
    const from = at + silence;
    at = from + length;
    return at > end ? [] : [{ from, length, name: 'C4', slot }];
  });
}

describe('bars of note values', () => {
  test('write a note of a whole bar, begun in it or before, as halves tied', () => {
    const form = formFromText('| C | F |');
    const sounds = [{ from: 18, length: 78, name: 'C5', slot: 0 }];
    const values = layMeasures(form, sounds, 1).map(({ beats }) =>
      beats.flatMap(({ notes }) => notes.map(({ name, value }) => `${name ?? 'rest'} ${value}`)),
    );
    // Beat 2 and a half, through the middle of the bar, over the bar line. Common practice, no source.
    expect(values).toEqual([
      ['rest quarter', 'rest eighth', 'C5 eighth', 'C5 half'],
      ['C5 half', 'C5 half'],
    ]);
  });

  test('say where every sound begins and how long it is, across beats and bars', () => {
    const step = fc.tuple(fc.integer({ min: 0, max: 14 }), fc.integer({ min: 1, max: 40 }));
    fc.assert(
      fc.property(anyForm, fc.array(step, { maxLength: 80 }), (form, steps) => {
        const sounds = soundsOver(form, steps);
        const measures = layMeasures(form, sounds, 1);
        expect(measures).toHaveLength(form.bars.length);
        for (const { beats, meter } of measures) {
          const length = beats.flatMap(({ notes }) => notes).reduce((sum, n) => sum + n.length, 0);
          expect(length).toBeCloseTo(beatsPerBar(meter));
          expect(beats).toHaveLength(beatsPerBar(meter));
        }
        expect(readBack(measures)).toEqual(sounds);
      }),
      { numRuns: runs(100, 40), seed: 20_261_129 },
    );
  });

  test('an eighth held over the beat is tied, a half note on the beat is one note', () => {
    const form = formFromText('| C |');
    const tied = layMeasures(form, [{ from: 6, length: 12, name: 'E4', slot: 0 }], 1);
    expect(values(tied)).toEqual(['r-eighth', 'E4-eighth~', '~E4-eighth', 'r-eighth', ...RESTS]);
    const half = layMeasures(form, [{ from: 0, length: 24, name: 'E4', slot: 0 }], 1);
    expect(values(half)).toEqual(['E4-half', ...RESTS]);
  });

  test('threes in a simple beat are a triplet, with its quarter and eighth', () => {
    const form = formFromText('| C |');
    const [measure] = layMeasures(
      form,
      [
        { from: 0, length: 8, name: 'C4', slot: 0 },
        { from: 8, length: 4, name: 'D4', slot: 1 },
      ],
      1,
    );
    expect(measure?.beats[0]?.tuplet).toEqual({ played: 3, inTimeOf: 2 });
    expect(measure?.beats[0]?.notes.map(({ value }) => value)).toEqual(['quarter', 'eighth']);
  });
});

const RESTS = ['r-quarter', 'r-quarter'];

function values(measures: readonly Measure[]): readonly string[] {
  return measures.flatMap(({ beats }) =>
    beats.flatMap(({ notes }) =>
      notes.map(
        ({ name, value, tiedFrom, tiedTo }) =>
          `${tiedFrom ? '~' : ''}${name ?? 'r'}-${value}${tiedTo ? '~' : ''}`,
      ),
    ),
  );
}

describe('a take as bars', () => {
  test('has every graded note, and a rest that knows its slot where one is missing', () => {
    fc.assert(
      fc.property(anyForm, anySettings, anyTake, (form, settings, take) => {
        fc.pre(settings.level !== 'free');
        const report = gradeTake(form, take, settings);
        const { measures } = takeMeasures(form, report, settings.slotsPerBeat ?? null);
        const written = measures.flatMap(({ beats }) =>
          beats.flatMap(({ notes }) =>
            notes.flatMap(({ name, slot, tiedFrom }) =>
              slot === null || tiedFrom ? [] : [{ slot, name }],
            ),
          ),
        );
        expect(written).toEqual(
          report.slots.map(({ index, note }) => ({ slot: index, name: note?.name ?? null })),
        );
      }),
      { numRuns: runs(100, 40), seed: 20_261_129 },
    );
  });

  test('at free has every note once, or says how many came too close to another', () => {
    fc.assert(
      fc.property(anyForm, anySettings, anyTake, (form, settings, take) => {
        const report = gradeTake(form, take, { ...settings, level: 'free' });
        const { measures, unwritten } = takeMeasures(form, report, null);
        const heard = readBack(measures);
        const within = report.slots.filter(
          ({ chorus }) => chorus <= (measures.at(-1)?.chorus ?? 0),
        );
        expect(heard.length + unwritten).toBe(within.length);
      }),
      { numRuns: runs(100, 40), seed: 20_261_129 },
    );
  });

  test('at free a last note nearest to the downbeat after its chorus is written there', () => {
    const form = formFromText('| C |');
    const tempo = { kind: 'steady', tempoBpm: 60 } as const;
    const events = [0, 3910, 5000].map((atMs): TakeEvent => {
      return { kind: 'noteOn', atMs, midi: 60, velocity: 80 };
    });
    const report = gradeTake(form, plainTake(events, 5200), { level: 'free', tempo });
    expect(report.slots.map(({ chorus, beat, sub }) => [chorus, beat, sub])).toEqual([
      [1, 1, 0],
      [1, 4, 11],
      [2, 2, 0],
    ]);
    const heard = readBack(takeMeasures(form, report, null).measures);
    expect(heard.map(({ from }) => from)).toEqual([0, 48, 60]);
  });

  test('at free a quarter, a held off-beat, a triplet and a rest are written as they were played', () => {
    // 120 beats a minute: a beat is 500 ms. Key down at and up at, in ms, a little loose.
    const played: readonly (readonly [number, number, number])[] = [
      [60, 4, 480],
      [64, 752, 1230],
      [67, 1252, 1480],
      [72, 1500, 1660],
      [71, 1668, 1820],
      [69, 1830, 1990],
      [67, 2000, 2200],
      [65, 2995, 3400],
    ];
    const events = played.flatMap(([midi, downMs, upMs]): TakeEvent[] => [
      { kind: 'noteOn', atMs: downMs, midi, velocity: 80 },
      { kind: 'noteOff', atMs: upMs, midi },
    ]);
    const form = formFromText('| C | C |');
    const tempo = { kind: 'steady', tempoBpm: 120 } as const;
    const report = gradeTake(form, plainTake(events, 4000), { level: 'free', tempo, choruses: 1 });
    expect(values(takeMeasures(form, report, null).measures)).toEqual([
      ...['C4-quarter', 'r-eighth', 'E4-eighth~', '~E4-eighth', 'G4-eighth'],
      ...['C5-eighth', 'B4-eighth', 'A4-eighth'],
      ...['G4-quarter', 'r-quarter', 'F4-quarter', 'r-quarter'],
    ]);
  });
});
