/** `grading.md`, "Palette" and "Intervals": own rules, worked by hand, each on both sides of its edge. */

import { describe, expect, test } from 'vitest';
import {
  bar,
  C_BOTH_WAYS,
  C_DORIAN,
  C_IONIAN,
  C_MINOR,
  faultsOf,
  formOf,
  gradeLine,
  palette,
} from '../../helpers/hand-made.ts';

const ionian = formOf([bar(C_IONIAN)]);

describe('outside', () => {
  test('a pitch class of the palette is inside in any octave, another is outside', () => {
    expect(faultsOf(gradeLine(ionian, 'B2 C3 Db3 C3 B2'))).toEqual(['', '', 'outside', '', '']);
  });

  test('a note alone is outside too, though it has no direction', () => {
    expect(faultsOf(gradeLine(ionian, 'Db4'))).toEqual(['outside']);
    expect(faultsOf(gradeLine(ionian, 'Db4 Db4', { repeats: 'allow' }))).toEqual([
      'outside',
      'outside',
    ]);
  });

  test('under N.C. nothing is outside and intervals count in semitones', () => {
    const none = formOf([bar(null)]);
    expect(faultsOf(gradeLine(none, 'C4 Db4 D4 F4'))).toEqual(['', '', '', 'interval']);
  });
});

describe('two-way palettes: C melodic minor up and down', () => {
  const minor = formOf([bar(C_BOTH_WAYS)]);

  test('rising takes the sixth and seventh raised', () => {
    expect(faultsOf(gradeLine(minor, 'G4 A4 B4 C5'))).toEqual(['', '', '', '']);
    expect(faultsOf(gradeLine(minor, 'G4 Ab4 Bb4 C5'))).toEqual(['', 'outside', 'outside', '']);
  });

  test('falling takes them lowered', () => {
    expect(faultsOf(gradeLine(minor, 'C5 Bb4 Ab4 G4'))).toEqual(['', '', '', '']);
    expect(faultsOf(gradeLine(minor, 'C5 B4 A4 G4'))).toEqual(['', 'outside', 'outside', '']);
  });

  test('at the turn the next interval decides, not the previous one', () => {
    // Up to B and back down: B is left downwards, so it should be Bb.
    expect(faultsOf(gradeLine(minor, 'G4 A4 B4 A4'))[2]).toBe('outside');
    expect(faultsOf(gradeLine(minor, 'G4 A4 B4 C5'))[2]).toBe('');
  });

  test('on the last note the previous interval decides', () => {
    expect(faultsOf(gradeLine(minor, 'G4 A4'))).toEqual(['', '']);
    expect(faultsOf(gradeLine(minor, 'G4 Ab4'))).toEqual(['', 'outside']);
    expect(faultsOf(gradeLine(minor, 'Bb4 Ab4'))).toEqual(['', '']);
  });

  test('before a repeat of the note the previous interval decides', () => {
    const settings = { level: 'leaps', approach: 'flag' } as const;
    expect(faultsOf(gradeLine(minor, 'G4 Ab4 Ab4 C5', settings))).toEqual([
      ...['', 'outside', 'outside', ''],
    ]);
    expect(faultsOf(gradeLine(minor, 'Bb4 Ab4 Ab4 G4', settings))).toEqual(['', '', '', '']);
  });

  test('before a change the next interval lies in another chord, so the previous one decides', () => {
    const two = formOf([
      [
        { beats: 2, palette: C_BOTH_WAYS },
        { beats: 2, palette: C_IONIAN },
      ],
    ]);
    const settings = { lineUp: 'flag' } as const;
    expect(faultsOf(gradeLine(two, 'F4 G4 A4 B4 A4', settings))[3]).toBe('');
    expect(faultsOf(gradeLine(two, 'D5 C5 Bb4 Ab4 A4', settings))[3]).toBe('');
  });

  test('a note alone passes in either form', () => {
    expect(faultsOf(gradeLine(minor, 'A4'))).toEqual(['']);
    expect(faultsOf(gradeLine(minor, 'Ab4'))).toEqual(['']);
  });
});

describe('chromatic approach', () => {
  const approach = { level: 'leaps' } as const;

  test('is open above steps and a fault at steps', () => {
    const report = gradeLine(ionian, 'C4 Db4 D4', approach);
    expect(faultsOf(report)).toEqual(['', '', '']);
    expect(report.slots[1]?.marks).toEqual(['approach']);
    expect(faultsOf(gradeLine(ionian, 'C4 Db4 D4', { lineUp: 'flag' }))[1]).toBe('outside');
  });

  test('can be flagged above steps and allowed at steps', () => {
    const flagged = gradeLine(ionian, 'C4 Db4 D4', { level: 'leaps', approach: 'flag' });
    expect(faultsOf(flagged)[1]).toBe('outside');
    expect(faultsOf(gradeLine(ionian, 'C4 Db4 D4', { approach: 'allow' }))[1]).toBe('');
  });

  test('needs its next note a semitone away, and inside', () => {
    expect(faultsOf(gradeLine(ionian, 'C4 Db4 E4', approach))[1]).toBe('outside');
    expect(faultsOf(gradeLine(ionian, 'C4 F#4 E4', approach))[1]).toBe('outside');
    expect(faultsOf(gradeLine(ionian, 'C4 F#4 F4', approach))[1]).toBe('');
    expect(faultsOf(gradeLine(ionian, 'C4 F#4 - F4', approach))[1]).toBe('outside');
    expect(faultsOf(gradeLine(ionian, 'C4 F#4', approach))[1]).toBe('outside');
  });

  test('two outside notes moving by semitone in one direction into the palette are approaches', () => {
    const gap = formOf([bar(palette('notes', 'C E G'))]);
    expect(faultsOf(gradeLine(gap, 'C4 Gb4 F4 E4', approach))).toEqual(['', '', '', '']);
    // The second step turns back.
    expect(faultsOf(gradeLine(gap, 'C4 F4 Gb4 F4 E4', approach))[1]).toBe('outside');
    // Three outside notes are one too many.
    const sparse = formOf([bar(palette('notes', 'C E Ab'))]);
    expect(faultsOf(gradeLine(sparse, 'C4 G4 Gb4 F4 E4', approach))).toEqual([
      '',
      'outside',
      '',
      '',
      '',
    ]);
  });

  test('two outside notes are none when the second turns away', () => {
    const gap = formOf([bar(palette('major pentatonic', 'C D E G A'))]);
    expect(faultsOf(gradeLine(gap, 'D4 F4 Gb4 E4 D4', approach)).slice(1, 3)).toEqual([
      ...['outside', 'outside'],
    ]);
  });

  test('a note inside is none, however it goes on', () => {
    const falling = gradeLine(formOf([bar(C_BOTH_WAYS)]), 'Bb4 Ab4 G4 F4', approach);
    expect(falling.slots.map(({ marks }) => marks)).toEqual([[], [], [], []]);
  });

  test('the note approached counts in its own palette, also across a change', () => {
    const two = formOf([
      [
        { beats: 2, palette: C_IONIAN },
        { beats: 2, palette: C_DORIAN },
      ],
    ]);
    const report = gradeLine(two, 'C4 D4 C4 Ab3 Bb3 Db4 Eb4 D4', approach);
    expect(faultsOf(report)[3]).toBe('outside');
    expect(faultsOf(gradeLine(two, 'C4 D4 C4 B3 Bb3', approach))[3]).toBe('');
    expect(faultsOf(gradeLine(two, 'C4 D4 C4 Ab4 A4', approach))[3]).toBe('');
  });
});

describe('anticipation', () => {
  const two = formOf([
    [
      { beats: 2, palette: C_IONIAN },
      { beats: 2, palette: C_DORIAN },
    ],
  ]);
  const allow = { level: 'leaps', approach: 'flag', anticipation: 'allow' } as const;

  test('the last slot before a change may hold a note of the next palette', () => {
    const report = gradeLine(two, 'C4 D4 C4 Eb4 D4', allow);
    expect(faultsOf(report)[3]).toBe('');
    expect(report.slots[3]?.marks).toEqual(['anticipation']);
  });

  test('is what a note is called that could be an approach as well', () => {
    const both = gradeLine(two, 'C4 D4 C4 Eb4 D4', { ...allow, approach: 'allow' });
    expect(both.slots[3]?.marks).toEqual(['anticipation']);
  });

  test('is off by default, and reaches no further than the last slot', () => {
    const off = { level: 'leaps', approach: 'flag' } as const;
    expect(faultsOf(gradeLine(two, 'C4 D4 C4 Eb4 D4', off))[3]).toBe('outside');
    expect(faultsOf(gradeLine(two, 'C4 D4 Eb4 C4 D4', allow))[2]).toBe('outside');
    expect(faultsOf(gradeLine(two, 'C4 D4 C4 Db4 D4', allow))[3]).toBe('outside');
  });
});

describe('intervals', () => {
  test.each([
    ['C4 D4', ''],
    ['C4 E4', 'interval'],
    ['E4 F4', ''],
    ['C4 C5', 'interval'],
  ] as const)('at steps %s is %j', (line, fault) => {
    expect(faultsOf(gradeLine(ionian, line))[1]).toBe(fault);
  });

  test('at steps one palette step is open, however wide', () => {
    const pentatonic = formOf([bar(palette('major pentatonic', 'C D E G A'))]);
    expect(faultsOf(gradeLine(pentatonic, 'E4 G4'))[1]).toBe('');
    expect(faultsOf(gradeLine(pentatonic, 'D4 G4'))[1]).toBe('interval');
    const harmonic = formOf([bar(palette('harmonic minor', 'C D Eb F G Ab B'))]);
    expect(faultsOf(gradeLine(harmonic, 'Ab4 B4'))[1]).toBe('');
  });

  test('at steps two semitones are open, also across a note between', () => {
    const chromatic = formOf([bar(palette('half-whole diminished', 'C Db Eb E F# G A Bb'))]);
    expect(faultsOf(gradeLine(chromatic, 'C4 Db4 Eb4'))).toEqual(['', '', '']);
    const all = formOf([bar(palette('chromatic', 'C Db D Eb E F Gb G Ab A Bb B'))]);
    expect(faultsOf(gradeLine(all, 'C4 D4 F4'))).toEqual(['', '', 'interval']);
  });

  test.each([
    ['C4 E4', ''],
    ['C4 F4', 'interval'],
    ['B3 D4', ''],
  ] as const)('at thirds %s is %j', (line, fault) => {
    expect(faultsOf(gradeLine(ionian, line, { level: 'thirds' }))[1]).toBe(fault);
  });

  test('at thirds two palette steps are open, however wide', () => {
    const pentatonic = formOf([bar(palette('major pentatonic', 'C D E G A'))]);
    expect(faultsOf(gradeLine(pentatonic, 'D4 G4', { level: 'thirds' }))[1]).toBe('');
    expect(faultsOf(gradeLine(pentatonic, 'C4 G4', { level: 'thirds' }))[1]).toBe('interval');
  });

  test('an outside note is measured in semitones', () => {
    const settings = { level: 'thirds', approach: 'flag' } as const;
    expect(faultsOf(gradeLine(ionian, 'C4 Eb4', settings))[1]).toBe('outside');
    expect(faultsOf(gradeLine(ionian, 'C4 Gb4', settings))[1]).toBe('outside+interval');
  });

  test('everything is open at leaps', () => {
    expect(faultsOf(gradeLine(ionian, 'C4 B5 C3', { level: 'leaps' }))).toEqual(['', '', '']);
  });

  test('a repeated pitch is a fault at steps and thirds, open above, adjustable', () => {
    expect(faultsOf(gradeLine(ionian, 'C4 C4'))[1]).toBe('interval');
    expect(faultsOf(gradeLine(ionian, 'C4 C4', { level: 'thirds' }))[1]).toBe('interval');
    expect(faultsOf(gradeLine(ionian, 'C4 C4', { level: 'leaps' }))[1]).toBe('');
    expect(faultsOf(gradeLine(ionian, 'C4 C4', { repeats: 'allow' }))[1]).toBe('');
    expect(faultsOf(gradeLine(ionian, 'C4 C4', { level: 'leaps', repeats: 'flag' }))[1]).toBe(
      'interval',
    );
  });

  test('is not judged after a gap', () => {
    expect(faultsOf(gradeLine(ionian, 'C4 - C5'))).toEqual(['', 'gap', '']);
  });

  test('is measured in the arriving note’s palette', () => {
    // C to Eb is one step of C minor pentatonic and 3 semitones; over C ionian it would be a third.
    const pentatonic = palette('minor pentatonic', 'C Eb F G Bb');
    const two = formOf([
      [
        { beats: 2, palette: C_MINOR },
        { beats: 2, palette: pentatonic },
      ],
    ]);
    expect(faultsOf(gradeLine(two, 'C4 D4 Eb4 C4 Eb4', { lineUp: 'flag' }))[4]).toBe('');
  });
});

describe('line-up allowance', () => {
  const two = formOf([
    [
      { beats: 2, palette: C_IONIAN },
      { beats: 2, palette: C_DORIAN },
    ],
  ]);

  test.each([
    ['into the last slot of the old palette', 'C4 D4 E4 C4 D4 Eb4 F4', 3],
    ['into the first slot of the new one', 'C4 D4 E4 D4 F4 Eb4 D4', 4],
    ['into the second slot of the new one', 'C4 D4 C4 D4 Eb4 G4 F4', 5],
  ])('a third %s is no fault', (_where, line, slot) => {
    const report = gradeLine(two, line);
    expect(faultsOf(report)).toEqual(['', '', '', '', '', '', '']);
    expect(report.slots[slot]?.marks).toEqual(['lineUp']);
    expect(faultsOf(gradeLine(two, line, { lineUp: 'flag' }))[slot]).toBe('interval');
  });

  test('reaches neither one slot earlier nor one later, nor wider than a third', () => {
    expect(faultsOf(gradeLine(two, 'C4 D4 F4 E4 Eb4'))[2]).toBe('interval');
    expect(faultsOf(gradeLine(two, 'C4 D4 C4 D4 Eb4 F4 D4'))[6]).toBe('interval');
    expect(faultsOf(gradeLine(two, 'C4 D4 C4 F4 Eb4'))[3]).toBe('interval');
  });

  test('is given once per change, to the first that needs it', () => {
    const report = gradeLine(two, 'C4 D4 E4 C4 Eb4 G4 F4');
    expect(faultsOf(report)).toEqual(['', '', '', '', 'interval', 'interval', '']);
    expect(report.slots[3]?.marks).toEqual(['lineUp']);
  });

  test('excuses an outside note that leads by semitone into its palette', () => {
    const report = gradeLine(two, 'E4 D4 C4 B3 C4 Db4 D4');
    expect(faultsOf(report)).toEqual(['', '', '', '', '', '', '']);
    expect(report.slots[5]?.marks).toEqual(['lineUp']);
    expect(faultsOf(gradeLine(two, 'E4 D4 C4 B3 C4 Db4 C4'))[5]).toBe('');
    expect(faultsOf(gradeLine(two, 'E4 D4 C4 B3 C4 Db4 Eb4'))[5]).toBe('outside');
  });

  test('does not excuse a repeated pitch', () => {
    expect(faultsOf(gradeLine(two, 'C4 D4 C4 D4 D4'))[4]).toBe('interval');
  });

  test('comes anew with the next change, and none stands before the first chord of a take', () => {
    expect(faultsOf(gradeLine(two, 'C4 E4'))[1]).toBe('interval');
    const line = 'C4 D4 E4 C4 D4 Eb4 F4 Eb4 G4 A4';
    expect(faultsOf(gradeLine(two, line)).slice(3)).toEqual(['', '', '', '', '', '', '']);
  });

  test('is off above steps unless asked for', () => {
    expect(faultsOf(gradeLine(two, 'C4 D4 C4 F4 Eb4', { level: 'thirds' }))[3]).toBe('interval');
    const outside = 'E4 D4 C4 B3 C4 Db4 D4';
    const settings = { level: 'thirds', approach: 'flag' } as const;
    expect(faultsOf(gradeLine(two, outside, settings))[5]).toBe('outside');
    expect(faultsOf(gradeLine(two, outside, { ...settings, lineUp: 'allow' }))[5]).toBe('');
  });
});
