import { describe, expect, it } from 'vitest';
import {
  beatsPerBar,
  formatMeter,
  isCompound,
  METERS,
  parseMeter,
  quartersPerBeat,
} from '../../../src/core/chart/index.ts';

// grading.md, "Time and grid": quarters in 3/4, 4/4, 5/4; halves in 2/2, 3/2; dotted quarters in 6/8, 9/8, 12/8; eighths in 5/8, 7/8.
const COUNTED: readonly (readonly [
  text: string,
  compound: boolean,
  beats: number,
  quarters: number,
])[] = [
  ['2/4', false, 2, 1],
  ['3/4', false, 3, 1],
  ['4/4', false, 4, 1],
  ['5/4', false, 5, 1],
  ['6/4', false, 6, 1],
  ['7/4', false, 7, 1],
  ['2/2', false, 2, 2],
  ['3/2', false, 3, 2],
  ['6/8', true, 2, 1.5],
  ['9/8', true, 3, 1.5],
  ['12/8', true, 4, 1.5],
  ['5/8', false, 5, 0.5],
  ['7/8', false, 7, 0.5],
];

describe('meters', () => {
  it.each(COUNTED)('%s', (text, compound, beats, quarters) => {
    const meter = parseMeter(text);
    expect(meter && [isCompound(meter), beatsPerBar(meter), quartersPerBeat(meter)]).toEqual([
      compound,
      beats,
      quarters,
    ]);
  });

  it('reads back what it writes, for every meter there is', () => {
    expect(METERS.map((meter) => parseMeter(formatMeter(meter)))).toEqual(METERS);
    expect(METERS.map(formatMeter)).toEqual(COUNTED.map(([text]) => text));
  });

  it.each(['', '4', '3/8', '4/2', '1/4', '8/4', '44', 'constructor', '4 /4'])(
    '%j is none',
    (text) => {
      expect(parseMeter(text)).toBeNull();
    },
  );
});
