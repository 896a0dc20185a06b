import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { z } from 'zod';
import {
  CHART_SCHEMA,
  chartErrorsJson,
  chartJson,
  parseChart,
} from '../../../src/core/chart/index.ts';
import { arbitraryChart } from '../../helpers/arbitrary-chart.ts';
import { LANTERN_WALK } from './example.ts';
import { chartOf, formOf, textOf } from './reading.ts';

// The object of `reports.md`, "A chart: `linekeeper.chart/1`", field by field; strict: nothing more, nothing less, but for a pickup.
const pc = z.int().min(0).max(11);
const tones = { notes: z.array(z.string()), pcs: z.array(pc) };
const alternative = z.strictObject({
  name: z.string(),
  root: z.string(),
  ...tones,
  falling: z.strictObject(tones).optional(),
  reason: z.string().min(1),
});
const chord = z.strictObject({
  beat: z.number().multipleOf(0.5).min(1),
  beats: z.number().multipleOf(0.5).min(0.5),
  symbol: z.string(),
  root: z.string().nullable(),
  bass: z.string().nullable(),
  pcs: z.array(pc),
  palette: alternative.extend({ given: z.boolean() }).nullable(),
  alternatives: z.array(alternative),
});
const schema = z.strictObject({
  schema: z.literal('linekeeper.chart/1'),
  title: z.string().nullable(),
  key: z.string().nullable(),
  keyGiven: z.boolean().nullable(),
  meter: z.string().nullable(),
  tempo: z.number().nullable(),
  pickup: z.strictObject({ beats: z.number().positive(), chords: z.array(chord) }).optional(),
  plans: z.array(z.string()),
  bars: z.array(
    z.strictObject({
      bar: z.int().min(1),
      section: z.string().nullable(),
      meter: z.string(),
      chords: z.array(chord),
    }),
  ),
  errors: z.array(
    z.strictObject({
      line: z.int().min(1),
      column: z.int().min(1),
      read: z.string(),
      expected: z.string().min(1),
      suggestion: z.string().nullable(),
    }),
  ),
});

describe('the JSON of a chart', () => {
  it('has exactly the fields of the schema, and survives JSON', () => {
    fc.assert(
      fc.property(arbitraryChart(), (chart) => {
        const json = chartJson(chart, formOf(chart));
        expect(JSON.parse(JSON.stringify(json))).toEqual(json);
        schema.parse(json);
      }),
      { numRuns: 50 },
    );
  });

  it('tells the example', () => {
    const chart = chartOf(LANTERN_WALK);
    const json = chartJson(chart, formOf(chart));
    expect(json).toMatchObject({
      schema: CHART_SCHEMA,
      title: 'Lantern Walk',
      key: 'Bb',
      keyGiven: true,
      meter: '4/4',
      tempo: 66,
      plans: ['plain', 'side door'],
      errors: [],
    });
    expect(json.bars[3]?.chords[0]).toMatchObject({
      beat: 1,
      beats: 4,
      symbol: 'G7',
      root: 'G',
      bass: null,
      pcs: [7, 11, 2, 5],
      // G phrygian dominant, each letter once.
      palette: {
        name: 'phrygian dominant',
        root: 'G',
        notes: ['G', 'Ab', 'B', 'C', 'D', 'Eb', 'F'],
        pcs: [7, 8, 11, 0, 2, 3, 5],
        given: true,
      },
    });
    expect(json.bars[3]?.chords[0]?.palette).not.toHaveProperty('falling');
  });

  it('tells a pickup where there is one, with the palettes of its chords', () => {
    const json = (pickup: string) => {
      const chart = chartOf(textOf(`${pickup}| Cm7 | F7 |`));
      return chartJson(chart, formOf(chart));
    };
    expect(json('')).not.toHaveProperty('pickup');
    expect(json('pickup: 3/8\n').pickup).toEqual({ beats: 1.5, chords: [] });
    expect(json('pickup: 2 Cm7 F7\n').pickup).toMatchObject({
      beats: 2,
      chords: [
        { beat: 1, beats: 1, symbol: 'Cm7' },
        { beat: 2, beats: 1, symbol: 'F7', palette: { root: 'F', given: false } },
      ],
    });
  });

  it('tells the falling form of a two-way palette, the bass and N.C.', () => {
    const chart = chartOf(textOf('| Cm/G <melodic minor up and down> N.C. |'));
    const chords = chartJson(chart, formOf(chart)).bars[0]?.chords;
    expect(chords?.[0]).toMatchObject({
      bass: 'G',
      // Classical melodic minor: raised sixth and seventh rising, natural falling (common practice, no source).
      palette: {
        pcs: [0, 2, 3, 5, 7, 9, 11],
        falling: { pcs: expect.arrayContaining([0, 2, 3, 5, 7, 8, 10]) },
      },
    });
    expect(chords?.[1]).toEqual({
      beat: 3,
      beats: 2,
      symbol: 'N.C.',
      root: null,
      bass: null,
      pcs: [],
      palette: null,
      alternatives: [],
    });
  });

  it('tells every error and nothing else of a chart that could not be read', () => {
    const outcome = parseChart(textOf('| Q | C F G A B |'));
    const json = chartErrorsJson(outcome.ok ? [] : outcome.problems);
    schema.parse(json);
    expect(json).toMatchObject({
      title: null,
      key: null,
      keyGiven: null,
      meter: null,
      tempo: null,
      plans: [],
      bars: [],
    });
    expect(json.errors.map(({ line, column }) => [line, column])).toEqual([
      [4, 3],
      [4, 7],
    ]);
  });
});
