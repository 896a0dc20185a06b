/**
 * What must be true around a chord for each reason that is given: worked out from the words of the reason alone, and asked of
 * every choice over generated passages and over the charts that come with the program. What the words "goes to" and "comes
 * from" pass over is said in `place.ts`; here it is read a second time.
 */

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { chordContexts, parseChart, unrollForm } from '../../../src/core/chart/index.ts';
import { DOMINANT_RULES } from '../../../src/core/theory/choice/dominant.rules.ts';
import { AUGMENTED_RULES, MAJOR_RULES } from '../../../src/core/theory/choice/major.rules.ts';
import { MINOR_RULES } from '../../../src/core/theory/choice/minor.rules.ts';
import {
  DIMINISHED_RULES,
  HALF_DIMINISHED_RULES,
  POWER_RULES,
  SUSPENDED_RULES,
} from '../../../src/core/theory/choice/other.rules.ts';
import {
  type ChoiceInput,
  type ChordSymbol,
  choosePalettes,
  keyFifths,
  type Palette,
  semitonesUp,
  tonePc,
} from '../../../src/core/theory/index.ts';
import { runs } from '../../helpers/runs.ts';
import { chord } from './symbols.ts';

/** A choice with what stands around its chord. Degrees and distances are semitones, 0–11; -1 where there is no chord. */
interface Fact {
  readonly mode: 'major' | 'minor';
  readonly degree: number;
  readonly symbol: ChordSymbol;
  readonly from: ChordSymbol | null;
  readonly earlier: ChordSymbol | null;
  readonly to: ChordSymbol | null;
  readonly on: ChordSymbol | null;
  readonly palette: Palette;
  readonly keyPcs: readonly number[];
}

const DOMINANTS = ['dominant', 'suspended'];
const SECONDS = ['minor', 'halfDiminished'];
const MINORS = ['minor', 'halfDiminished', 'diminished'];

function beyond(symbol: ChordSymbol, chords: readonly ChordSymbol[], way: 'before' | 'after') {
  const isDominant = DOMINANTS.includes(symbol.family);
  const after = isDominant
    ? [...DOMINANTS, ...SECONDS]
    : SECONDS.includes(symbol.family)
      ? SECONDS
      : [];
  const forms = way === 'after' ? after : isDominant ? DOMINANTS : [];
  let at = 0;
  for (const other of chords) {
    if (up(symbol, other) !== 0 || !forms.includes(other.family)) break;
    at++;
  }
  return chords.slice(at);
}

function factOf({ symbol, key, before, after }: ChoiceInput, palette: Palette): Fact {
  const [from = null, ...past] = beyond(symbol, before, 'before');
  const [to = null, ...rest] = beyond(symbol, after, 'after');
  return {
    mode: key.mode,
    degree: semitonesUp(key.tonic, symbol.root),
    symbol,
    from,
    earlier: from === null ? null : (beyond(from, past, 'before')[0] ?? null),
    to,
    on: to === null ? null : (beyond(to, rest, 'after')[0] ?? null),
    palette,
    keyPcs: Array.from({ length: 7 }, (_, step) => tonePc(keyFifths(key) - 1 + step)),
  };
}

function up(one: ChordSymbol | null, other: ChordSymbol | null): number {
  return one === null || other === null ? -1 : semitonesUp(one.root, other.root);
}

const isIn = (chord: ChordSymbol | null, families: readonly string[]): boolean =>
  chord !== null && families.includes(chord.family);

/** Semitones above the root that the chord, or the palette, has. */
const has = ({ symbol }: Fact, ...semitones: readonly number[]): boolean =>
  semitones.some((one) => symbol.tones.some(({ interval }) => tonePc(interval) === one));
const sounds = ({ palette, symbol }: Fact, ...semitones: readonly number[]): boolean =>
  semitones.every((one) => palette.pcs.includes((tonePc(symbol.root) + one) % 12));
const named = ({ symbol }: Fact, degree: number, semitones: number): boolean =>
  symbol.tones.some((tone) => tone.degree === degree && tonePc(tone.interval) === semitones);

const inKey =
  (mode: Fact['mode'], ...degrees: readonly number[]) =>
  (fact: Fact) =>
    fact.mode === mode && degrees.includes(fact.degree);
const major = (...degrees: readonly number[]) => inKey('major', ...degrees);
const minor = (...degrees: readonly number[]) => inKey('minor', ...degrees);

const upFourth = ({ symbol, to }: Fact): boolean => up(symbol, to) === 5;
const degreeOfNext = ({ degree, symbol, to }: Fact): number =>
  to === null ? -1 : (degree + up(symbol, to)) % 12;

/** A minor chord a fourth up, or the key's own there where another comes; II of minor leads on through V. */
function towardsMinor(fact: Fact): boolean {
  const own = fact.mode === 'major' ? [4, 9, 11] : [0, 2, 7];
  if (fact.mode === 'minor' && fact.degree === 2) return true;
  return upFourth(fact) ? isIn(fact.to, MINORS) : own.includes(fact.degree);
}

/** Its dominant follows and resolves. */
const isTwoThatResolves = ({ symbol, to, on }: Fact): boolean =>
  up(symbol, to) === 5 && isIn(to, DOMINANTS) && up(to, on) === 5;
const followsHalfDiminished = ({ from, symbol }: Fact): boolean =>
  up(from, symbol) === 5 && isIn(from, ['halfDiminished']);
const isBlues = ({ degree, symbol, from, to }: Fact): boolean =>
  (isIn(from, ['dominant']) && (degree - up(from, symbol) + 12) % 12 === 0) ||
  (isIn(to, ['dominant']) && (degree + up(symbol, to)) % 12 === 0);
const isTonicMinor = (fact: Fact): boolean => minor(0)(fact) && !isTwoThatResolves(fact);

const TRUE_OF: Readonly<Record<string, (fact: Fact) => boolean>> = {
  // What the symbol says.
  'alt: every tension altered': ({ symbol }) => symbol.altered,
  'altered fifths with a natural ninth': (fact) => fact.symbol.altered && sounds(fact, 2, 6, 8),
  'altered ninths with a natural thirteenth': (fact) =>
    fact.symbol.altered && sounds(fact, 1, 3, 9),
  'flat ninth and flat thirteenth': (fact) => sounds(fact, 1, 8),
  'altered ninth and fifth': (fact) => has(fact, 1, 3) && has(fact, 6, 8),
  'altered ninth with natural thirteenth or #11': (fact) => has(fact, 1, 3) && has(fact, 9, 6),
  'augmented dominant towards minor': (fact) => named(fact, 5, 8) && towardsMinor(fact),
  'the raised fifth as a flat thirteenth, natural ninth': (fact) =>
    named(fact, 5, 8) && sounds(fact, 2, 8),
  'the raised fifth as a flat thirteenth, flat ninth': (fact) =>
    named(fact, 5, 8) && sounds(fact, 1, 8),
  'augmented dominant': (fact) => named(fact, 5, 8),
  'dominant with a raised fourth': (fact) => has(fact, 6),
  'flat ninth towards minor': (fact) => has(fact, 1) && towardsMinor(fact),
  'sharp ninth towards minor': (fact) => named(fact, 9, 3) && towardsMinor(fact),
  'flat ninth in place of the sharp one, perfect fifth': (fact) =>
    named(fact, 9, 3) && sounds(fact, 1, 7) && towardsMinor(fact),
  'altered ninth, perfect fifth and thirteenth': (fact) => has(fact, 1, 3) && sounds(fact, 7, 9),
  'flat ninth with flat thirteenth': (fact) => sounds(fact, 1, 8),
  'flat thirteenth towards minor': (fact) => has(fact, 8) && towardsMinor(fact),
  'the chord has the raised fourth': (fact) => has(fact, 6),
  'minor chord with a major seventh': (fact) => has(fact, 11),
  'minor chord with a major seventh, flat sixth': (fact) => has(fact, 11) && sounds(fact, 8),
  'minor chord with a sixth, major seventh': (fact) => has(fact, 9) && sounds(fact, 11),
  'minor chord with a sixth, minor seventh': (fact) => has(fact, 9) && sounds(fact, 10),
  'suspended chord with a flat ninth': (fact) => has(fact, 1),
  'suspended chord with a flat ninth, natural sixth': (fact) => has(fact, 1) && sounds(fact, 9),
  'suspended dominant': (fact) => has(fact, 10),
  'suspended dominant, the third kept minor': (fact) => has(fact, 10) && sounds(fact, 3),
  'half-diminished chord': ({ symbol }) => symbol.family === 'halfDiminished',
  // Where dominants go.
  'V after a half-diminished ii': followsHalfDiminished,
  'V after a half-diminished ii, flat ninth': (fact) =>
    followsHalfDiminished(fact) && sounds(fact, 1),
  'dominant a tritone from the V it replaces, resolving down a semitone': (fact) =>
    up(fact.symbol, fact.to) === 11 &&
    !isIn(fact.to, ['diminished']) &&
    !major(0, 7)(fact) &&
    !minor(7)(fact),
  'V of a minor key': minor(7),
  'V of a minor key, natural ninth': (fact) => minor(7)(fact) && sounds(fact, 2),
  'V of a minor key that leads to a chord not minor': (fact) =>
    minor(7)(fact) && upFourth(fact) && !isIn(fact.to, MINORS),
  'V resolving to a minor chord': (fact) =>
    major(7)(fact) && upFourth(fact) && isIn(fact.to, MINORS),
  'V resolving to a minor chord, natural ninth': (fact) =>
    major(7)(fact) && upFourth(fact) && isIn(fact.to, MINORS) && sounds(fact, 2),
  'V of a major key': major(7),
  'IV of a blues': (fact) => major(5)(fact) && isBlues(fact),
  'IV of a blues with a raised fourth': (fact) =>
    major(5)(fact) && isBlues(fact) && sounds(fact, 6),
  'IV with a flat seventh, outside a blues': (fact) =>
    major(5)(fact) && has(fact, 10) && !isBlues(fact),
  'dominant of IV': (fact) => major(0)(fact) && upFourth(fact) && !isIn(fact.to, MINORS),
  'tonic with a flat seventh, as in a blues': (fact) => {
    const comesFromItsTwo = up(fact.from, fact.symbol) === 5 && isIn(fact.from, SECONDS);
    const isFiveOfFour = upFourth(fact) && (isIn(fact.to, ['major']) || comesFromItsTwo);
    return major(0)(fact) && has(fact, 10) && !isFiveOfFour;
  },
  'bVII, the back door to I': (fact) => major(10)(fact) && degreeOfNext(fact) === 0,
  'bVII borrowed from minor': (fact) =>
    major(10)(fact) && degreeOfNext(fact) !== 0 && !upFourth(fact),
  'major IV of a minor key: its dorian sound': (fact) => minor(5)(fact) && sounds(fact, 4),
  'dominant of a major chord within a minor key': (fact) =>
    minor(3, 10)(fact) && upFourth(fact) && isIn(fact.to, ['major']),
  'bVII of a minor key': minor(10),
  'bIII of a minor key with a flat seventh': (fact) => minor(3)(fact) && has(fact, 10),
  'secondary dominant towards minor, flat ninth': (fact) =>
    fact.degree !== 7 && towardsMinor(fact) && sounds(fact, 1),
  'secondary dominant towards minor, natural ninth': (fact) =>
    fact.degree !== 7 && towardsMinor(fact) && sounds(fact, 2),
  'dominant resolving a fourth up': upFourth,
  'II of a major key with a major third': (fact) => major(2)(fact) && has(fact, 4),
  'dominant that does not resolve a fourth up': (fact) => !upFourth(fact),
  'every tension altered, pulling hard towards minor': (fact) =>
    towardsMinor(fact) && sounds(fact, 1, 3, 6, 8),
  // Major chords.
  'I of a major key': major(0),
  'IV of a major key': major(5),
  'bIII of a minor key, its relative major': minor(3),
  'bVI of a minor key': minor(8),
  'major triad towards minor': (fact) => !has(fact, 9, 10, 11) && towardsMinor(fact),
  'major triad towards minor, ninth kept natural': (fact) =>
    !has(fact, 9, 10, 11) && towardsMinor(fact) && sounds(fact, 2),
  'major triad read as a dominant': (fact) =>
    !has(fact, 9, 10, 11) && !towardsMinor(fact) && sounds(fact, 10),
  'its own dominant resolves here: a new tonic for a while': ({ from, symbol }) =>
    up(from, symbol) === 5 && isIn(from, ['dominant']),
  'major chord from outside the key': ({ symbol, keyPcs, palette }) =>
    [tonePc(symbol.root), ...palette.pcs].some((pc) => !keyPcs.includes(pc)),
  'major chord: the usual major sound': ({ symbol }) => symbol.family === 'major',
  'flat seventh: a blues shade on a chord without seventh': (fact) =>
    !has(fact, 10, 11) && sounds(fact, 10),
  'augmented triad read as a dominant': (fact) => has(fact, 8) && !has(fact, 11),
  // Minor chords.
  'ii of the dominant that follows': (fact) => upFourth(fact) && isIn(fact.to, DOMINANTS),
  'tonic minor with a sixth': (fact) => isTonicMinor(fact) && has(fact, 9),
  'tonic minor with a sixth, minor seventh': (fact) =>
    isTonicMinor(fact) && has(fact, 9) && sounds(fact, 10),
  'tonic minor seventh': (fact) => isTonicMinor(fact) && has(fact, 10),
  "tonic minor seventh with the key's own sixth": (fact) =>
    isTonicMinor(fact) && has(fact, 10) && sounds(fact, 8),
  'tonic of a minor key': isTonicMinor,
  'tonic of a minor key, minor seventh': (fact) => isTonicMinor(fact) && sounds(fact, 10),
  'tonic of a minor key, flat sixth': (fact) => isTonicMinor(fact) && sounds(fact, 8),
  'tonic of a minor key, as its signature says': (fact) =>
    isTonicMinor(fact) && fact.palette.pcs.every((pc) => fact.keyPcs.includes(pc)),
  'tonic of a minor key, classical form': (fact) =>
    isTonicMinor(fact) && fact.palette.falling !== null,
  'ii of a major key': major(2),
  'iii of a major key': major(4),
  'iii of a major key with a natural ninth': (fact) => major(4)(fact) && sounds(fact, 2),
  'vi of a major key': major(9),
  'iv borrowed from minor': (fact) => {
    const isTwo = upFourth(fact) && isIn(fact.to, DOMINANTS);
    const goesHome = (fact.degree + up(fact.symbol, fact.on)) % 12 === 0 && fact.on !== null;
    return major(5)(fact) && (!isTwo || goesHome);
  },
  'iv of a minor key': minor(5),
  'minor v of a minor key': minor(7),
  'its own ii–V resolves here: a new tonic for a while': ({ earlier, from, symbol }) =>
    up(from, symbol) === 5 &&
    up(earlier, from) === 5 &&
    isIn(from, ['dominant']) &&
    isIn(earlier, SECONDS),
  'minor chord: the usual minor sound': ({ symbol }) => symbol.family === 'minor',
  'flat sixth: natural minor': (fact) => sounds(fact, 2, 3, 8, 10),
  'major seventh on a chord that leaves it open': (fact) => !has(fact, 10, 11) && sounds(fact, 11),
  // Half-diminished, diminished, suspended and power chords.
  'vii of a major key': major(11),
  'half-diminished ii of a minor key': minor(2),
  'raised iv: only one note leaves the key': (fact) =>
    major(6)(fact) && fact.palette.pcs.filter((pc) => !fact.keyPcs.includes(pc)).length === 1,
  'half-diminished ii of the dominant that follows': (fact) =>
    upFourth(fact) && isIn(fact.to, DOMINANTS),
  "diminished triad of the key's own notes": ({ palette, keyPcs }) =>
    palette.pcs.every((pc) => keyPcs.includes(pc)),
  'diminished chord passing by semitone to the next': ({ symbol, to }) =>
    [1, 11].includes(up(symbol, to)),
  'suspended V of a minor key': minor(7),
  'no third: major with a flat seventh': (fact) => !has(fact, 3, 4) && sounds(fact, 4, 10),
  'no third: major': (fact) => !has(fact, 3, 4) && sounds(fact, 4, 11),
  'no third: minor with a natural sixth': (fact) => !has(fact, 3, 4) && sounds(fact, 3, 9),
  'no third: natural minor': (fact) => !has(fact, 3, 4) && sounds(fact, 3, 8),
  'no third: five notes of minor': (fact) => !has(fact, 3, 4) && fact.palette.pcs.length === 5,
  'suspended chord, major with a flat seventh': (fact) => !has(fact, 3, 4) && sounds(fact, 4, 10),
  'suspended chord, major': (fact) => !has(fact, 3, 4) && sounds(fact, 4, 11),
  'suspended second, major with a raised fourth': (fact) =>
    has(fact, 2) && !has(fact, 5) && sounds(fact, 4, 6),
  'suspended chord, minor with a natural sixth': (fact) => !has(fact, 3, 4) && sounds(fact, 3, 9),
  'suspended chord, natural minor': (fact) => !has(fact, 3, 4) && sounds(fact, 3, 8),
  'suspended chord, minor with a flat ninth': (fact) => !has(fact, 3, 4) && sounds(fact, 1, 3),
  // What only describes the notes of the palette.
  'raised fourth and raised fifth': (fact) => sounds(fact, 6, 8),
  'flat thirteenth with natural ninth': (fact) => sounds(fact, 2, 8),
  'flat and sharp ninth, natural thirteenth': (fact) => sounds(fact, 1, 3, 9),
  'no tension altered': (fact) => sounds(fact, 2, 5, 9) && !sounds(fact, 1),
  'dominant chord: no tension altered': (fact) => sounds(fact, 2, 5, 9) && !sounds(fact, 1),
  'raised fourth: no note rubs against the third': (fact) => sounds(fact, 4, 6) && !sounds(fact, 5),
  'both sevenths keep chord tones on the beat': (fact) => sounds(fact, 10, 11),
  'every tension altered': (fact) => sounds(fact, 1, 3, 6, 8),
  'raised fifth with raised fourth and major seventh': (fact) => sounds(fact, 6, 8, 11),
  'third mode of harmonic minor: natural fourth': (fact) => sounds(fact, 4, 5, 8, 11),
  'two augmented triads a semitone apart': (fact) => sounds(fact, 0, 4, 8, 11, 3, 7),
  'every note a whole tone apart': (fact) => sounds(fact, 0, 2, 4, 6, 8, 10),
  'five notes that all agree with the chord': ({ palette }) => palette.pcs.length === 5,
  'one passing note keeps chord tones on the beat': ({ palette }) => palette.pcs.length === 8,
  'flat sixth darkens the major chord': (fact) => sounds(fact, 4, 8),
  'flat seventh and raised fourth': (fact) => sounds(fact, 6, 10),
  'flat ninth and flat sixth': (fact) => sounds(fact, 1, 8),
  'minor pentatonic with the flat fifth': (fact) => sounds(fact, 0, 3, 5, 6, 7, 10),
  'the major third as a passing note': (fact) => sounds(fact, 3, 4),
  'diminished chord: a whole tone above each tone': (fact) => sounds(fact, 0, 3, 6, 9, 2, 5, 8, 11),
  'seventh mode of the harmonic minor a semitone up': (fact) => sounds(fact, 0, 1, 3, 4, 6, 8, 9),
  'second mode of harmonic minor': (fact) => sounds(fact, 0, 1, 3, 5, 6, 9, 10),
  'second mode of harmonic minor: natural sixth': (fact) => sounds(fact, 0, 1, 3, 5, 6, 9, 10),
  'fourth mode of harmonic minor': (fact) => sounds(fact, 0, 2, 3, 6, 7, 9, 10),
  'natural ninth in place of the flat one': (fact) => sounds(fact, 2) && !sounds(fact, 1),
  'natural ninth and natural sixth': (fact) => sounds(fact, 2, 9),
};

/** Reasons that are not of a rule. */
const OF_NO_RULE = [
  "holds all of the chord's tones",
  "the chord's own tones: no scale holds them all",
];

const RULES = [
  ...[DOMINANT_RULES, AUGMENTED_RULES, MAJOR_RULES, MINOR_RULES],
  ...[DIMINISHED_RULES, HALF_DIMINISHED_RULES, POWER_RULES, SUSPENDED_RULES],
].flat();

test('every reason of the rules has its truth, and there is none for a reason that is gone', () => {
  const reasons = RULES.flatMap(({ offers }) => offers.map(({ reason }) => reason));
  expect(Object.keys(TRUE_OF).toSorted()).toEqual([...new Set(reasons)].toSorted());
});

/** The reasons given for a chord that are not true, each as a sentence; those that are true are counted. */
function untrue(input: ChoiceInput, given = new Map<string, number>()): readonly string[] {
  return choosePalettes(input).flatMap(({ palette, reason }) => {
    if (OF_NO_RULE.includes(reason)) return [];
    given.set(reason, (given.get(reason) ?? 0) + 1);
    if (TRUE_OF[reason]?.(factOf(input, palette)) === true) return [];
    const row = [...input.before.toReversed(), input.symbol, ...input.after];
    return [`${row.map(({ text }) => text).join(' ')}: ${input.symbol.text}, ${reason}`];
  });
}

const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];
const QUALITIES = [
  ...['maj7', '6', '', 'maj7#11', 'add9', '+', 'maj7#5', 'm7', 'm7', 'm6', 'm', 'mMaj7', 'm9'],
  ...[
    '7',
    '7',
    '7',
    '9',
    '13',
    '7b9',
    '7#9',
    '7#5',
    '7alt',
    '7b13',
    '7#11',
    '13b9',
    '7b9b13',
    '7b5b9',
  ],
  ...['m7b5', 'm7b5', 'dim7', 'dim', '7sus4', 'sus4', 'sus2', '7susb9', '5'],
];
/** Every root, those of ii, V and I more often. */
const FIRST_ROOTS = [...ROOTS.keys(), 2, 2, 7, 7, 7, 0, 0];
/** How roots move, the fourth up most often; 0 is the same root in another form. */
const MOVES = [5, 5, 5, 5, 0, 0, 11, 1, 2, 7, 10, 3, 4, 6, 8, 9];

const anyMoves = fc.array(fc.constantFrom(...MOVES), { minLength: 6, maxLength: 6 });
const anyQualities = fc.array(fc.constantFrom(...QUALITIES), { minLength: 7, maxLength: 7 });

/** Seven chords of any kind, or a ii–V and five of any kind. */
const rows = fc.oneof(
  fc.record({ moves: anyMoves, qualities: anyQualities }),
  fc
    .tuple(anyMoves, anyQualities, fc.constantFrom('m7', 'm7b5'), fc.constantFrom('7', '7b9'))
    .map(([moves, qualities, two, five]) => ({
      moves: [5, 5, ...moves.slice(2)],
      qualities: [two, five, ...qualities.slice(2)],
    })),
);

const passages = fc
  .record({
    first: fc.constantFrom(...FIRST_ROOTS),
    row: rows,
    at: fc.integer({ min: 0, max: 4 }),
    mode: fc.constantFrom('major' as const, 'minor' as const),
  })
  .map(({ first, row: { moves, qualities }, at, mode }): ChoiceInput => {
    let root = first;
    const row = qualities.map((quality, index) => {
      root = (root + (index === 0 ? 0 : (moves[index - 1] ?? 0))) % 12;
      return chord((ROOTS[root] ?? '') + quality);
    });
    const [symbol = chord('C')] = row.slice(at);
    const key = { tonic: 0, mode };
    return { symbol, key, before: row.slice(0, at).reverse(), after: row.slice(at + 1) };
  });

describe('the reasons given', () => {
  test('are true of generated passages, in which each of them is met', () => {
    const given = new Map<string, number>();
    fc.assert(
      fc.property(passages, (input) => {
        expect(untrue(input, given)).toEqual([]);
      }),
      { numRuns: runs(100_000, 6000), seed: 20_261_130 },
    );
    const never = Object.keys(TRUE_OF).filter((reason) => !given.has(reason));
    expect(never).toEqual([]);
  });

  const folder = join(import.meta.dirname, '../../../shared/charts');
  test.each(readdirSync(folder))('are true of %s, in every plan', (file) => {
    const chart = parseChart(readFileSync(join(folder, file), 'utf8'));
    if (!chart.ok) throw new Error(`${file} does not read`);
    for (const plan of ['plain', ...chart.value.plans.map(({ name }) => name)]) {
      const form = unrollForm(chart.value, plan);
      if (!form.ok) throw new Error(`${file} has no ${plan}`);
      const symbols = form.value.bars.flatMap(({ chords }) => chords.map(({ symbol }) => symbol));
      const contexts = chordContexts(symbols);
      symbols.forEach((symbol, index) => {
        const context = contexts[index];
        if (symbol === null || context === undefined) return;
        expect(untrue({ symbol, key: form.value.key, ...context })).toEqual([]);
      });
    }
  });
});
