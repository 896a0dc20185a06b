/**
 * Our MusicXML read by an unrelated library, and files that library makes read by us: musicxml-io 0.9.6, whose score
 * checker goes through divisions, measure durations, voices, beams, ties and tuplets. It also writes MusicXML from ABC
 * notation with chord symbols, which is where its files come from here.
 */

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { type NoteEntry, parse, parseAbc, type Score, serialize, validate } from 'musicxml-io';
import { describe, expect, test } from 'vitest';
import { type Chart, type Form, unrollForm } from '../../../src/core/chart/index.ts';
import { readMusicXml, writeMusicXml } from '../../../src/core/chart/musicxml/index.ts';
import { DRILL_STYLES, takeOfLine, writeDrill, writeLine } from '../../../src/core/line/index.ts';
import { lineMeasures, writeScoreMusicXml } from '../../../src/core/score/index.ts';
import { parseNoteName } from '../../../src/core/theory/index.ts';
import { SLOTS_PER_BEAT } from '../../../src/core/words.ts';
import { chartOf, formOf, symbolsOf } from '../../core/chart/reading.ts';
import { arbitraryChart } from '../../helpers/arbitrary-chart.ts';
import { arbitraryMelody, withOnePickup } from '../../helpers/arbitrary-melody.ts';
import { runs } from '../../helpers/runs.ts';

const CHARTS = join(import.meta.dirname, '..', '..', '..', 'shared', 'charts');
const STEPS: Readonly<Record<string, number>> = { C: 0, D: 2, E: 4, F: 5, G: 7, A: 9, B: 11 };

function harmonies(score: Score): readonly string[] {
  const measures = score.parts[0]?.measures ?? [];
  return measures.flatMap(({ entries }) =>
    entries.flatMap((entry) =>
      entry.type === 'harmony'
        ? [`${entry.root.rootStep}${entry.root.rootAlter ?? 0} ${entry.kind}`]
        : [],
    ),
  );
}

/** Keys of the notes in order, MIDI numbers. */
function isTiedOver({ tie, ties = [] }: NoteEntry): boolean {
  return [...(tie === undefined ? [] : [tie]), ...ties].some(({ type }) => type === 'stop');
}

function midis(score: Score): readonly number[] {
  const measures = score.parts[0]?.measures ?? [];
  return measures.flatMap(({ entries }) =>
    entries.flatMap((entry) => {
      if (entry.type !== 'note' || entry.pitch === undefined || isTiedOver(entry)) return [];
      const { step, alter = 0, octave } = entry.pitch;
      return [(octave + 1) * 12 + (STEPS[step] ?? 0) + alter];
    }),
  );
}

function errorsOf(score: Score): readonly string[] {
  return validate(score).errors.map(({ code, message }) => `${code}: ${message}`);
}

describe('our charts, read by the library', () => {
  test.each(readdirSync(CHARTS).filter((name) => name.endsWith('.chart')))(
    '%s is sound, chord for chord',
    (name) => {
      const chart = chartOf(readFileSync(join(CHARTS, name), 'utf8'));
      const score = parse(writeMusicXml(chart));
      expect(errorsOf(score)).toEqual([]);
      const written = chart.sections.flatMap(({ bars }) =>
        bars.flatMap(({ content }) => (content.kind === 'same' ? [] : content.chords)),
      );
      const before = chart.pickup?.chords.length ?? 0;
      expect(harmonies(score)).toHaveLength(before + written.length);
    },
  );

  test('and written again by it they are the same charts to us, palettes and plans too', () => {
    fc.assert(
      fc.property(arbitraryChart(), (chart) => {
        const again = readMusicXml(
          new TextEncoder().encode(serialize(parse(writeMusicXml(chart)))),
        );
        expect(again.ok ? symbolsOf(formOf(again.value.chart)) : again.problems).toEqual(
          symbolsOf(formOf(chart)),
        );
      }),
      { numRuns: runs(50, 20), seed: 20_261_129 },
    );
  });
});

describe('our melodies, read by the library', () => {
  test('are sound scores of the very keys, and the same melodies when it has written them again', () => {
    const both = arbitraryChart().chain((chart) =>
      arbitraryMelody(chart).map((melody) => ({ chart, melody })),
    );
    fc.assert(
      fc.property(both, ({ chart, melody }) => {
        const score = parse(writeMusicXml(chart, melody));
        expect(errorsOf(score)).toEqual([]);
        expect(midis(score)).toEqual(melody.sounds.map(({ name }) => parseNoteName(name)));
        const again = readMusicXml(new TextEncoder().encode(serialize(score)));
        expect(again.ok ? again.value.melody : again.problems).toEqual(
          withOnePickup(chart, melody).melody,
        );
      }),
      { numRuns: runs(60, 20), seed: 20_261_129 },
    );
  });
});

describe('our lines, read by the library', () => {
  const firstBars = (chart: Chart): Form => {
    const form = unrollForm(chart, 'plain');
    if (!form.ok) throw new Error('plain is missing');
    return { ...form.value, bars: form.value.bars.slice(0, 8) };
  };
  const arbitraryForm = arbitraryChart().map(firstBars);
  /** Without palettes that leave a chord's guide tones out: over those there is no guide-tone line. */
  const openForm = arbitraryChart({ givenPalettes: false }).map(firstBars);

  test('are sound scores of the very keys that were written, in every key, meter and grid', () => {
    fc.assert(
      fc.property(
        arbitraryForm,
        fc.constantFrom('leaps' as const, 'free' as const),
        fc.constantFrom(null, ...SLOTS_PER_BEAT),
        fc.integer(),
        (form, level, slotsPerBeat, seed) => {
          const line = writeLine(form, {
            ...{
              level,
              choruses: 1,
              slotsPerBeat,
              swing: 1,
              seed,
              density: 0.5,
              startMidi: null,
              style: 'teaching',
              direction: 0,
            },
            register: { lowestMidi: 55, highestMidi: 84 },
          });
          if (!line.ok) return;
          const score = parse(
            writeScoreMusicXml(form, lineMeasures(form, line.value), 'A line', 90),
          );
          expect(errorsOf(score)).toEqual([]);
          const played = takeOfLine(line.value, 90).events.flatMap((event) =>
            event.kind === 'noteOn' ? [event.midi] : [],
          );
          expect(midis(score)).toEqual(played);
        },
      ),
      { numRuns: runs(150, 30), seed: 20_261_129 },
    );
  });

  test('and so are drills, half notes among them', () => {
    let halves = 0;
    fc.assert(
      fc.property(openForm, fc.constantFrom(...DRILL_STYLES), (form, style) => {
        const line = writeDrill(form, style, {
          ...{
            choruses: 1,
            slotsPerBeat: null,
            swing: 1,
            seed: 1,
            startMidi: null,
            style: 'teaching',
            direction: 0,
          },
          register: { lowestMidi: 50, highestMidi: 84 },
        });
        if (!line.ok) return;
        const xml = writeScoreMusicXml(form, lineMeasures(form, line.value), 'A drill', 90);
        const score = parse(xml);
        expect(errorsOf(score)).toEqual([]);
        expect(midis(score)).toEqual(line.value.notes.map(({ midi }) => midi));
        halves += xml.split('<type>half</type>').length - 1;
      }),
      { numRuns: runs(150, 40), seed: 20_261_126 },
    );
    expect(halves).toBeGreaterThan(0);
  });
});

describe('its files, read by us', () => {
  const abc = (body: string, key = 'C', meter = '4/4') =>
    serialize(parseAbc(`X:1\nT:Pantry Shelf\nM:${meter}\nL:1/4\nK:${key}\n${body}\n`));
  const read = (xml: string) => {
    const score = readMusicXml(new TextEncoder().encode(xml));
    if (!score.ok) throw new Error(JSON.stringify(score.problems));
    return score.value;
  };

  test('chords, key, meter, repeats, endings and the melody come through', () => {
    const { chart, melody, notices } = read(
      abc('|:"Dm7"D2 "G7"G2|"Cmaj7"C4|1"A7"A4:|2"Bb7"_B4|', 'F'),
    );
    expect(chart.title).toBe('Pantry Shelf');
    expect(chart.key.tonic).toBe(-1);
    expect(symbolsOf(formOf(chart))).toEqual([
      ...['Dm7 G7', 'Cmaj7', 'A7'],
      ...['Dm7 G7', 'Cmaj7', 'Bb7'],
    ]);
    expect(notices).toEqual([]);
    expect(melody?.sounds.map(({ from, length, name }) => `${from} ${length} ${name}`)).toEqual([
      ...['0 24 D4', '24 24 G4', '48 48 C4', '96 48 A4', '144 48 Bb4'],
    ]);
  });

  test('a melody with ties, triplets and rests', () => {
    const { melody, notices } = read(
      abc('"C"c2-c/2z/2(3e/2f/2g/2|"F"a2-a^f|"G7"g2z"C"c|"C"c4|]', 'C'),
    );
    expect(melody?.sounds.map(({ from, length, name }) => `${from} ${length} ${name}`)).toEqual([
      ...['0 30 C5', '36 4 E5', '40 4 F5', '44 4 G5', '48 36 A5', '84 12 F#5'],
      ...['96 24 G5', '132 12 C5', '144 48 C5'],
    ]);
    expect(notices).toEqual([]);
  });

  test('a pickup, where the library marks it as one', () => {
    const { chart, melody } = read(
      abc('G|"C"c4|"F"a4|]').replace('<measure number="1"', '<measure number="0" implicit="yes"'),
    );
    expect(chart.pickup).toEqual({ eighths: 2, chords: [] });
    expect(melody?.leadIn).toBe(12);
    expect(melody?.sounds[0]).toEqual({ from: -12, length: 12, name: 'G4' });
  });

  // Its ABC reader takes m7b5 for m7, so that chord is not asked of it.
  test('a waltz, and chords of every usual kind', () => {
    const { chart } = read(abc('"F#m7"A3|"B7"B3|"Em"E3|"Eb6"E3|"Cdim7"C3|', 'G', '3/4'));
    expect(chart.meter).toEqual({ count: 3, unit: 4 });
    expect(symbolsOf(formOf(chart))).toEqual(['F#m7', 'B7', 'Em', 'Eb6', 'Cdim7']);
  });
});
