import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  findScale,
  formatTone,
  nearestScaleName,
  parseTone,
  SCALES,
  scalePalette,
  toneLetter,
  tonePc,
} from '../../../src/core/theory/index.ts';
import { MODE_FAMILIES } from '../../../src/core/theory/scales.data.ts';
import { ROOTS } from './symbols.ts';

function scale(name: string) {
  const found = findScale(name);
  if (found === null) throw new Error(`no scale ${name}`);
  return found;
}

function tone(name: string): number {
  const found = parseTone(name);
  if (found === null) throw new Error(`no tone ${name}`);
  return found;
}

describe('the table of scales', () => {
  it('names every scale once, and no alias twice', () => {
    const names = SCALES.flatMap(({ name, aliases }) => [name, ...aliases]);
    expect(new Set(names).size).toBe(names.length);
  });

  it.each(SCALES)('$name and its other names read back', ({ name, aliases }) => {
    for (const spelling of [name, ...aliases]) expect(findScale(spelling)?.name).toBe(name);
  });

  it.each(SCALES)('$name rises from its root within an octave', ({ intervals, falling }) => {
    for (const form of falling === null ? [intervals] : [intervals, falling]) {
      const pcs = form.map(tonePc);
      expect(pcs[0]).toBe(0);
      expect(pcs).toEqual([...new Set(pcs)].sort((one, other) => one - other));
    }
  });

  it('holds each set of pitch classes on one root once', () => {
    const sets = SCALES.map(({ intervals, falling }) =>
      [...intervals, '/', ...(falling ?? [])].join(' '),
    );
    expect(new Set(sets).size).toBe(sets.length);
  });
});

describe('modes', () => {
  it.each(MODE_FAMILIES.map((rows) => [rows[0]?.name ?? '', rows] as const))(
    'each mode of %s is its parent begun on another degree',
    (parentName, rows) => {
      const parent = scale(parentName);
      expect(rows).toHaveLength(parent.intervals.length);
      for (const [index, { name }] of rows.entries()) {
        const from = parent.intervals[index] ?? 0;
        const rotated = [...parent.intervals.slice(index), ...parent.intervals.slice(0, index)].map(
          (interval) => interval - from,
        );
        expect([name, scale(name).intervals]).toEqual([name, rotated]);
      }
    },
  );

  it('half-whole is whole-half a semitone lower', () => {
    const low = new Set(scalePalette(scale('half-whole diminished'), tone('B')).pcs);
    const high = new Set(scalePalette(scale('whole-half diminished'), tone('C')).pcs);
    expect(low).toEqual(high);
  });

  it('major blues is minor blues on the sixth', () => {
    const major = new Set(scalePalette(scale('major blues'), tone('C')).pcs);
    expect(major).toEqual(new Set(scalePalette(scale('blues'), tone('A')).pcs));
  });
});

describe('names of scales', () => {
  it.each([
    ['Lydian Dominant', 'lydian dominant'],
    ['lydian ♭7', 'lydian dominant'],
    ['lydian flat 7', 'lydian dominant'],
    ['LYDIAN-B7', 'lydian dominant'],
    ['mixolydian ♯11', 'lydian dominant'],
    ['super-locrian', 'altered'],
    ['altered scale', 'altered'],
    ['locrian #2', 'locrian natural 2'],
    ['Locrian ♮2', 'locrian natural 2'],
    ['locrian nat. 2', 'locrian natural 2'],
    ['half diminished', 'locrian natural 2'],
    ['half/whole', 'half-whole diminished'],
    ['wholetone', 'whole tone'],
    ['dorian mode', 'dorian'],
    ['phrygian natural 6', 'dorian b2'],
    ['mixolydian b9 b13', 'phrygian dominant'],
    ['melodic minor up and down', 'melodic minor up and down'],
    ['jazz minor', 'melodic minor'],
  ])('%s is %s', (spelling, name) => {
    expect(findScale(spelling)?.name).toBe(name);
  });

  it.each(['', 'scale', 'constructor', '__proto__', 'toString', 'x'.repeat(5000)])(
    '%.20s is no scale',
    (name) => {
      expect(findScale(name)).toBeNull();
    },
  );

  it('finds the name nearest to a slip', () => {
    expect(nearestScaleName('mixolidian')).toBe('mixolydian');
    expect(nearestScaleName('frygian dominant')).toBe('phrygian dominant');
    expect(nearestScaleName('half hole')).toBe('half-whole');
    expect(nearestScaleName('quite something else')).toBeNull();
    expect(nearestScaleName('x'.repeat(5000))).toBeNull();
  });

  it('does not mind case, spaces or hyphens', () => {
    const names = fc.constantFrom(...SCALES.map(({ name }) => name));
    const blanks = fc.constantFrom('', ' ', '  ', '-', '_');
    fc.assert(
      fc.property(names, blanks, fc.boolean(), (name, blank, large) => {
        const spelled = name.replace(/[ -]/g, blank);
        expect(findScale(large ? spelled.toUpperCase() : spelled)?.name).toBe(name);
      }),
    );
  });
});

describe('palettes of scales', () => {
  const everywhere = SCALES.flatMap((one) => ROOTS.map((root) => [one, root] as const));

  it('have the pitch classes of the scale, spelled with one accidental at most', () => {
    for (const [one, root] of everywhere) {
      const palette = scalePalette(one, tone(root));
      expect(palette.root).toBe(root);
      expect(palette.notes[0]).toBe(root);
      const wanted = one.intervals.map((interval) => tonePc(tone(root) + interval));
      expect(palette.pcs).toEqual(wanted);
      expect(palette.notes.map((note) => tonePc(tone(note)))).toEqual(wanted);
      for (const note of palette.notes) expect(note).toMatch(/^[A-G][b#]?$/);
    }
  });

  it('use each letter once where that takes no double accidental', () => {
    let plain = 0;
    for (const [one, root] of everywhere) {
      if (one.intervals.length !== 7) continue;
      const exact = one.intervals.map((interval) => formatTone(tone(root) + interval));
      expect(new Set(one.intervals.map((interval) => toneLetter(tone(root) + interval))).size).toBe(
        7,
      );
      if (exact.some((note) => note.length > 2)) continue;
      plain++;
      expect(scalePalette(one, tone(root)).notes).toEqual(exact);
    }
    expect(plain).toBeGreaterThan(300);
  });

  it.each([
    // Common practice, no source: chord tones of the usual chord keep their names.
    ['half-whole diminished', 'C Db Eb E F# G A Bb'],
    ['whole-half diminished', 'C D Eb F Gb Ab A B'],
    ['whole tone', 'C D E F# G# Bb'],
    ['augmented', 'C D# E G G# B'],
    ['bebop dominant', 'C D E F G A Bb B'],
    ['bebop major', 'C D E F G G# A B'],
    ['bebop dorian', 'C D Eb E F G A Bb'],
    ['bebop dorian natural 7', 'C D Eb F G A Bb B'],
    ['bebop melodic minor', 'C D Eb F G G# A B'],
    ['blues', 'C Eb F Gb G Bb'],
    ['major blues', 'C D Eb E G A'],
    ['minor pentatonic', 'C Eb F G Bb'],
    ['major pentatonic', 'C D E G A'],
    ['chromatic', 'C Db D Eb E F F# G Ab A Bb B'],
  ])('%s on C is spelled %s', (name, notes) => {
    expect(scalePalette(scale(name), tone('C')).notes.join(' ')).toBe(notes);
  });

  it('fall differently only where the scale does', () => {
    const palette = scalePalette(scale('melodic minor up and down'), tone('A'));
    expect(palette.notes).toEqual(['A', 'B', 'C', 'D', 'E', 'F#', 'G#']);
    expect(palette.falling?.notes).toEqual(['A', 'B', 'C', 'D', 'E', 'F', 'G']);
    expect(scalePalette(scale('melodic minor'), tone('A')).falling).toBeNull();
  });

  it('take a root with a double accidental by its simple name', () => {
    const palette = scalePalette(scale('dorian'), tone('Bbb'));
    expect(palette.root).toBe('A');
    expect(palette.notes).toEqual(['A', 'B', 'C', 'D', 'E', 'F#', 'G']);
  });

  it('keep the altered scale readable on flat roots', () => {
    const palette = scalePalette(scale('altered'), tone('Gb'));
    expect(palette.notes).toEqual(['Gb', 'G', 'A', 'Bb', 'C', 'D', 'Fb']);
  });
});
