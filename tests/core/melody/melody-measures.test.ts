/** A melody laid out over the bars as they are written and as they are played. Places worked out by hand. */

import { describe, expect, test } from 'vitest';
import { type Form, unrollForm, writtenForm } from '../../../src/core/chart/index.ts';
import {
  type Melody,
  melodyBars,
  melodyMeasures,
  playedBars,
  writtenOrder,
} from '../../../src/core/melody/index.ts';
import type { Measure } from '../../../src/core/score/index.ts';
import { chartOf } from '../chart/reading.ts';

const chart = chartOf('title: a\nkey: C\nmeter: 2/4\n|: C |1 F :|2 G7 |\n');
/** Half a beat of pickup tied into bar 1, and bar 1 tied into the first ending; a note in the second. */
const melody: Melody = {
  ...{ leadIn: 6, fifths: 0, bars: melodyBars(chart) },
  sounds: [
    { from: -6, length: 18, name: 'E4' },
    { from: 12, length: 24, name: 'G4' },
    { from: 36, length: 12, name: 'E4' },
    { from: 48, length: 24, name: 'B4' },
  ],
};

function formOf(read: typeof unrollForm): Form {
  const form = read(chart, 'plain');
  if (!form.ok) throw new Error('plain is missing');
  return form.value;
}

/** `3: ~G4 quarter` style: `~` before a note that goes on from the one before, and after one that goes on. */
function said(measures: readonly Measure[]): readonly string[] {
  return measures.map(({ bar, meterSign, beats }) => {
    const notes = beats.flatMap((beat) =>
      beat.notes.map(
        ({ name, value, tiedFrom, tiedTo }) =>
          `${tiedFrom ? '~' : ''}${name ?? 'rest'} ${value}${tiedTo ? '~' : ''}`,
      ),
    );
    return `${bar}${meterSign === null ? '' : ` ${meterSign}`}: ${notes.join(', ')}`;
  });
}

describe('bars of a melody', () => {
  test('as written: each once, the pickup before them and the meter where the staff begins', () => {
    expect(said(melodyMeasures(formOf(writtenForm), writtenOrder(chart), melody))).toEqual([
      '0 2/4: rest eighth, E4 eighth~',
      '1: ~E4 quarter, G4 quarter~',
      '2: ~G4 quarter, E4 quarter',
      '3: B4 half',
    ]);
  });

  test('as played: a note goes on only into the bar that follows it as written', () => {
    const measures = melodyMeasures(formOf(unrollForm), playedBars(chart), melody);
    expect(said(measures)).toEqual([
      '0 2/4: rest eighth, E4 eighth~',
      '1: ~E4 quarter, G4 quarter~',
      '2: ~G4 quarter, E4 quarter',
      // The second time nothing leads into it, and the ending it leads into is another.
      '3: E4 quarter, G4 quarter',
      '4: B4 half',
    ]);
    expect(measures.slice(1).map(({ chords }) => chords[0]?.symbol?.text)).toEqual([
      ...['C', 'F', 'C', 'G7'],
    ]);
  });
});
