/** `grading.md`, "Changes", "Left hand" and "Level `free`": own rules, worked by hand. */

import { describe, expect, test } from 'vitest';
import { gradeTake, type Report } from '../../../src/core/grading/index.ts';
import {
  bar,
  C_DORIAN,
  C_IONIAN,
  C_MINOR,
  D_DORIAN,
  faultsOf,
  formOf,
  gradeLine,
  inOrder,
  key,
  palette,
  STEADY_60,
  symbol,
} from '../../helpers/hand-made.ts';

/** From C ionian to C dorian at slot 8: E and B leave, Eb and Bb arrive. */
const two = formOf([bar(C_IONIAN), bar(C_DORIAN)]);
const IONIAN_BAR = 'C4 D4 E4 F4 G4 F4 E4 D4';

function changeIn(report: Report) {
  const [change] = report.changes;
  return change && [change.arrival, change.bySlots, change.earlyBy, change.provenAt];
}

describe('arrival', () => {
  test('a note of the new palette alone before any of the old one alone is on time', () => {
    expect(changeIn(gradeLine(two, `${IONIAN_BAR} Eb4 D4`))).toEqual(['onTime', null, 0, 8]);
    expect(changeIn(gradeLine(two, `${IONIAN_BAR} C4 D4 Eb4`))).toEqual(['onTime', null, 0, 10]);
  });

  test('a note of the old palette alone first is late, by the slots through the last such note', () => {
    expect(changeIn(gradeLine(two, `${IONIAN_BAR} E4 D4 Eb4`))).toEqual(['late', 1, 0, 10]);
    expect(changeIn(gradeLine(two, `${IONIAN_BAR} C4 E4 D4 Eb4`))).toEqual(['late', 2, 0, 11]);
    expect(changeIn(gradeLine(two, `${IONIAN_BAR} E4 D4 E4 Eb4`))).toEqual(['late', 3, 0, 11]);
    expect(changeIn(gradeLine(two, `${IONIAN_BAR} E4 D4 C4`))).toEqual(['late', 1, 0, null]);
  });

  test('common tones only leave it unproven', () => {
    expect(changeIn(gradeLine(two, `${IONIAN_BAR} C4 D4 C4 D4`))).toEqual([
      'unproven',
      null,
      0,
      null,
    ]);
  });

  test('after the proof an old note is outside and nothing more', () => {
    const report = gradeLine(two, `${IONIAN_BAR} Eb4 D4 C4 D4 E4`);
    expect(changeIn(report)).toEqual(['onTime', null, 0, 8]);
    expect(report.slots[12]?.faults).toEqual(['outside']);
  });

  test('gaps are skipped', () => {
    expect(changeIn(gradeLine(two, `${IONIAN_BAR} - - Eb4`))).toEqual(['onTime', null, 0, 10]);
  });

  test('earlyBy counts the new notes in a row just before the change', () => {
    expect(changeIn(gradeLine(two, 'C4 D4 E4 F4 G4 F4 D4 Eb4 D4 Eb4'))?.[2]).toBe(1);
    expect(changeIn(gradeLine(two, 'C4 D4 E4 F4 G4 Bb4 Bb4 Eb4 D4 Eb4'))?.[2]).toBe(3);
    expect(changeIn(gradeLine(two, 'C4 D4 E4 F4 G4 Eb4 D4 C4 D4 Eb4'))?.[2]).toBe(0);
    expect(changeIn(gradeLine(two, 'C4 D4 E4 F4 G4 Eb4 - Eb4 D4 Eb4'))?.[2]).toBe(1);
  });

  test('earlyBy reaches back to the first note of the old chord, and no further', () => {
    const shortBar = [
      { beats: 1, palette: C_IONIAN },
      { beats: 3, palette: C_DORIAN },
    ];
    const short = formOf([shortBar]);
    expect(changeIn(gradeLine(short, 'Eb4 Bb4 Eb4 D4', { level: 'leaps' }))?.[2]).toBe(2);
    const later = formOf([bar(C_DORIAN), shortBar]);
    const dorian = 'Eb4 D4 Eb4 D4 Eb4 D4 Eb4 Bb4';
    const report = gradeLine(later, `${dorian} Eb4 Bb4 Eb4`, { level: 'leaps' });
    expect(report.changes.at(-1)).toMatchObject({ slot: 10, earlyBy: 2 });
  });

  test('the same pitch-class set under another chord is unchanged and not counted', () => {
    const modes = formOf([bar(C_IONIAN), bar(D_DORIAN), bar(C_DORIAN)]);
    const report = gradeLine(modes, `${IONIAN_BAR} ${IONIAN_BAR} Eb4`);
    expect(report.changes.map(({ arrival, bar: at }) => [arrival, at])).toEqual([
      ['unchanged', 2],
      ['onTime', 3],
    ]);
    expect(report.summary.changes.counted).toBe(1);
  });

  test('a change is read until the next change, across unchanged chords', () => {
    const modes = formOf([bar(C_DORIAN), bar(C_IONIAN), bar(D_DORIAN)]);
    const common = 'C4 D4 C4 D4 C4 D4 C4 D4';
    const report = gradeLine(modes, `${common} ${common} C4 D4 E4`);
    expect(report.changes.filter(({ arrival }) => arrival !== 'unchanged')).toMatchObject([
      { bar: 2, arrival: 'onTime', provenAt: 18 },
    ]);
  });

  test('the same chord placed again is no boundary', () => {
    const again = { beats: 4, palette: C_IONIAN, symbol: symbol('C6', 'C') };
    expect(gradeLine(formOf([[again], [again]]), `${IONIAN_BAR} C4`).changes).toEqual([]);
  });

  test('N.C. is left and entered without a change', () => {
    const none = formOf([bar(C_IONIAN), bar(null), bar(C_DORIAN)]);
    expect(gradeLine(none, `${IONIAN_BAR} ${IONIAN_BAR} Eb4`).changes).toEqual([]);
  });

  test('N.C. ends what a change can still show', () => {
    const ended = formOf([bar(C_IONIAN), bar(C_DORIAN), bar(null)]);
    const common = 'C4 D4 C4 D4 C4 D4 C4 D4';
    const report = gradeLine(ended, `${IONIAN_BAR} ${common} Eb4 D4`);
    expect(changeIn(report)).toEqual(['unproven', null, 0, null]);
  });

  test('from the last chord to the first of the next chorus is a change', () => {
    const dorian = 'Eb4 D4 Eb4 F4 G4 F4 Eb4 D4';
    const report = gradeLine(two, `${IONIAN_BAR} ${dorian} E4 F4`);
    expect(report.changes[1]).toMatchObject({ chorus: 2, bar: 1, beat: 1, slot: 16 });
    expect(report.changes[1]?.arrival).toBe('onTime');
  });

  test('a change that lies after the last note is not in the report', () => {
    expect(gradeLine(two, IONIAN_BAR).changes).toEqual([]);
  });

  test('the new palette may be contained in the old one: it can be late, never on time', () => {
    const narrowing = formOf([bar(C_IONIAN), bar(palette('major pentatonic', 'C D E G A'))]);
    expect(changeIn(gradeLine(narrowing, `${IONIAN_BAR} C4 D4`))?.[0]).toBe('unproven');
    expect(changeIn(gradeLine(narrowing, `${IONIAN_BAR} F4 E4`))?.[0]).toBe('late');
  });

  test('the summary adds up and bars carry their late changes', () => {
    const form = formOf([bar(C_IONIAN), bar(C_DORIAN), bar(C_IONIAN), bar(C_DORIAN)]);
    const dorianLate = 'E4 D4 C4 D4 Eb4 D4 C4 D4';
    const common = 'C4 D4 C4 D4 C4 D4 C4 D4';
    const report = gradeLine(form, `${IONIAN_BAR} ${dorianLate} ${common} Eb4 D4`);
    expect(report.summary.changes).toEqual({
      counted: 3,
      onTime: 1,
      late: 1,
      early: 0,
      unproven: 1,
    });
    expect(report.bars.map(({ lateChanges }) => lateChanges)).toEqual([0, 1, 0, 0]);
  });
});

describe('left hand', () => {
  const form = formOf([
    [
      { beats: 2, palette: C_IONIAN, symbol: symbol('C', 'C') },
      { beats: 2, palette: C_MINOR, symbol: symbol('Cm/G', 'C', 'G') },
    ],
  ]);
  const line = 'C5 D5 E5 D5 Eb5 D5 C5 D5'.split(' ').flatMap((name, slot) => key(slot * 500, name));
  const settings = { level: 'steps', tempo: STEADY_60, splitMidi: 60, leftHand: true } as const;

  function bassOf(...keys: ReturnType<typeof key>[]) {
    const report = gradeTake(form, inOrder([...line, ...keys.flat()]), settings);
    return report.leftHand.map(({ verdict, midi, deviationMs }) => [verdict, midi, deviationMs]);
  }

  test('is judged by the nearest within a quarter of a beat, the earlier of two as near', () => {
    expect(bassOf(key(-100, 'C3'), key(40, 'D3'), key(2200, 'G2'))).toEqual([
      ['other', 50, 40],
      ['root', 43, 200],
    ]);
    expect(bassOf(key(-40, 'C3'), key(100, 'D3'), key(1800, 'A2'), key(1990, 'G2'))).toEqual([
      ['root', 48, -40],
      ['root', 43, -10],
    ]);
    expect(bassOf(key(1900, 'G2'), key(2100, 'A2'))[1]).toEqual(['root', 43, -100]);
  });

  test('is the lowest of the keys struck within 30 ms, and not of those struck later', () => {
    expect(bassOf(key(0, 'G3'), key(30, 'C3'))[0]).toEqual(['root', 48, 30]);
    expect(bassOf(key(0, 'G3'), key(31, 'C3'))[0]).toEqual(['other', 55, 0]);
    expect(bassOf(key(0, 'C3'), key(20, 'G3'))[0]).toEqual(['root', 48, 0]);
  });

  test('is owed in each chorus, up to the end of the line', () => {
    const twice = [0, 4000].flatMap((fromMs) =>
      'C5 D5 E5 D5 Eb5 D5 C5 D5'.split(' ').flatMap((name, slot) => key(fromMs + slot * 500, name)),
    );
    const basses = [...key(4000, 'C3'), ...key(6000, 'G2')];
    const report = gradeTake(form, inOrder([...twice, ...basses]), settings);
    expect(
      report.leftHand.map(({ chorus, bar, beat, verdict }) => [chorus, bar, beat, verdict]),
    ).toEqual([
      [1, 1, 1, 'missing'],
      [1, 1, 3, 'missing'],
      [2, 1, 1, 'root'],
      [2, 1, 3, 'root'],
    ]);
  });

  test('the root, or the note after the slash, is owed at each chord’s start', () => {
    expect(bassOf(key(0, 'C3'), key(2000, 'G2'))).toEqual([
      ['root', 48, 0],
      ['root', 43, 0],
    ]);
    expect(bassOf(key(0, 'E3'), key(2000, 'C3'))).toEqual([
      ['other', 52, 0],
      ['other', 48, 0],
    ]);
    expect(bassOf()).toEqual([
      ['missing', null, null],
      ['missing', null, null],
    ]);
  });

  test.each([
    [250, 'root'],
    [250.1, 'missing'],
    [-250, 'missing'],
  ])(
    'a bass note %s ms off the first chord is %s (a quarter of a beat is 250 ms)',
    (offMs, verdict) => {
      const at = offMs < 0 ? 2000 + offMs - 0.1 : offMs;
      const [first, second] = bassOf(key(at, offMs < 0 ? 'G2' : 'C3'));
      expect((offMs < 0 ? second : first)?.[0]).toBe(verdict);
    },
  );

  test.each([60, 61, 73, 77, 133.7])('its edge is the same at every chord, at %s', (tempoBpm) => {
    const beatMs = 60_000 / tempoBpm;
    const tempo = { kind: 'steady', tempoBpm } as const;
    const verdictsOf = (offBeats: number, offMs: number) => {
      const keys = Array.from({ length: 8 }, (_, chord) =>
        key((chord * 2 + 2) * beatMs + offBeats * beatMs + offMs, chord % 2 === 0 ? 'G2' : 'C3'),
      );
      const span = [...key(0, 'C5'), ...key(18 * beatMs, 'C5')];
      const report = gradeTake(form, inOrder([...span, ...keys.flat()]), { ...settings, tempo });
      return report.leftHand.slice(1, 8).map(({ verdict }) => verdict);
    };
    for (const side of [1, -1]) {
      expect(verdictsOf(side * 0.25, 0)).toEqual(Array(7).fill('root'));
      expect(verdictsOf(side * 0.25, side * 0.01)).toEqual(Array(7).fill('missing'));
    }
  });

  test('of keys struck together the lowest is the bass note', () => {
    expect(bassOf(key(-5, 'C3'), key(1, 'E3'), key(0, 'G3'))[0]?.slice(0, 2)).toEqual(['root', 48]);
  });

  test('never changes the line’s verdicts, and is silent unless asked for', () => {
    const withBass = gradeTake(form, inOrder([...line, ...key(0, 'E3')]), settings);
    const without = gradeTake(form, inOrder(line), { ...settings, leftHand: false });
    expect(without.leftHand).toEqual([]);
    expect(faultsOf(withBass)).toEqual(faultsOf(without));
  });
});

describe('free', () => {
  const free = { level: 'free', tempo: STEADY_60 } as const;

  test('has neither gaps nor timing faults; every note is an entry', () => {
    const report = gradeTake(
      two,
      inOrder([key(130, 'C4'), key(900, 'E4'), key(2700, 'G4')].flat()),
      free,
    );
    expect(faultsOf(report)).toEqual(['', '', '']);
    expect(report.summary.unplayed).toBe(0);
  });

  test('a note belongs to the chord at the nearest twelfth of a beat', () => {
    // The change lies at 4000 ms; a twelfth is 83.33 ms, so the border is 3958.33 ms.
    const settings = { ...free, anticipation: 'flag', approach: 'flag' } as const;
    const early = gradeTake(two, inOrder([...key(0, 'C4'), ...key(3959, 'Eb4')]), settings);
    expect(faultsOf(early)).toEqual(['', '']);
    const tooEarly = gradeTake(two, inOrder([...key(0, 'C4'), ...key(3957, 'Eb4')]), settings);
    expect(faultsOf(tooEarly)).toEqual(['', 'outside']);
  });

  test('an anticipated note of the next palette is marked, within the last eighth only', () => {
    const report = gradeTake(two, inOrder([...key(0, 'C4'), ...key(3500, 'Eb4')]), free);
    expect(report.slots[1]?.marks).toEqual(['anticipation']);
    const before = gradeTake(two, inOrder([...key(0, 'C4'), ...key(3400, 'Eb4')]), free);
    expect(faultsOf(before)).toEqual(['', 'outside']);
  });

  test('changes count notes in place of slots', () => {
    const keys = [
      key(0, 'C4'),
      key(4300, 'E4'),
      key(5000, 'D4'),
      key(6000, 'E4'),
      key(7000, 'Eb4'),
    ];
    const report = gradeTake(two, inOrder(keys.flat()), { ...free, approach: 'flag' });
    expect(changeIn(report)).toEqual(['late', 3, 0, 4]);
  });

  test('rhythm is described: values, rests and syncopation', () => {
    const keys = [
      key(0, 'C4', 80, 480),
      key(500, 'D4', 80, 800),
      key(1500, 'E4', 80, 300),
      key(3000, 'F4', 80, 300),
    ];
    const { rhythm } = gradeTake(two, inOrder(keys.flat()), free).summary;
    expect(rhythm?.values).toEqual({ 6: 1 / 3, 12: 1 / 3, 18: 1 / 3 });
    expect(rhythm?.rests).toBe(1);
    // D4 and E4 lie off the beat; D4 alone lasts past the next one.
    expect(rhythm?.syncopation).toBe(0.5);
    expect(rhythm?.medianDeviationMs).toBeCloseTo(0);
  });

  describe('at every beat and tempo a silence or an end exactly at its edge falls on the same side', () => {
    /** Sixteen notes a beat apart, each so much longer or shorter than half a beat, from a share of the first beat on. */
    function rhythmAt(tempoBpm: number, from: number, byMs: number) {
      const beatMs = 60_000 / tempoBpm;
      const keys = Array.from({ length: 16 }, (_, beat) =>
        key((beat + from) * beatMs, 'C4', 80, beatMs / 2 + byMs),
      );
      const tempo = { kind: 'steady', tempoBpm } as const;
      return gradeTake(two, inOrder(keys.flat()), { level: 'free', tempo }).summary.rhythm;
    }
    const TEMPOS = [60, 92, 117, 133.7, 208];

    test.each(TEMPOS)('half a beat is a rest, less is none, at %s', (tempoBpm) => {
      expect(rhythmAt(tempoBpm, 0, 0)?.rests).toBe(15);
      expect(rhythmAt(tempoBpm, 0, 0.01)?.rests).toBe(0);
    });

    test.each(TEMPOS)('a note that ends on the beat is not syncopated, at %s', (tempoBpm) => {
      expect(rhythmAt(tempoBpm, 0.5, 0)?.syncopation).toBe(0);
      expect(rhythmAt(tempoBpm, 0.5, 0.01)?.syncopation).toBe(1);
    });
  });
});
