/**
 * The words a chord symbol is made of, after its root. One row per spelling; the longest spelling that fits wins.
 * Words of three letters and more are read in any case; shorter ones as written, because `M` and `m` differ.
 * Common practice of lead sheets, no source; no single standard exists.
 */

/** What the chord is built on before numbers and alterations. */
export type Head = 'major' | 'minor' | 'diminished' | 'halfDiminished' | 'augmented' | 'dominant';

/**
 * The meaning of one word. `triangle` is a major head that brings its seventh with it; `majorSeventh` is a maj7 that
 * comes after a number, as in m9(maj7), and is read only there.
 */
export type Word =
  | { readonly kind: 'head'; readonly head: Head }
  | { readonly kind: 'triangle' }
  | { readonly kind: 'majorSeventh' }
  | { readonly kind: 'number'; readonly number: number }
  | { readonly kind: 'sus'; readonly degrees: readonly number[] }
  | { readonly kind: 'alter'; readonly degree: number; readonly alter: number }
  | { readonly kind: 'add'; readonly degree: number; readonly alter: number }
  | { readonly kind: 'omit'; readonly degree: number }
  | { readonly kind: 'alt' };

/** One spelling and its meaning. */
export type Row = readonly [spelling: string, word: Word];

/** 69 is the sixth with the ninth. */
export const SIX_NINE = 69;

const HEADS: readonly (readonly [Head, readonly string[]])[] = [
  ['major', ['M', 'ma', 'Ma', 'MA', 'maj', 'major']],
  ['minor', ['m', '-', 'mi', 'Mi', 'MI', 'min', 'minor']],
  ['diminished', ['o', '°', 'dim', 'diminished']],
  ['halfDiminished', ['ø', 'halfdim', 'half-dim', 'half-diminished', 'halfdiminished']],
  ['augmented', ['+', 'aug', 'augmented']],
  ['dominant', ['dom', 'dominant']],
];

const TRIANGLES = ['Δ', '^', 'j'];

const LATE_SEVENTHS = ['maj7', 'major7', 'M7', 'ma7', 'Ma7', 'MA7', 'Δ', 'Δ7'];

const NUMBERS: readonly (readonly [string, number])[] = [
  ['2', 2],
  ['5', 5],
  ['6', 6],
  ['6/9', SIX_NINE],
  ['69', SIX_NINE],
  ['7', 7],
  ['9', 9],
  ['11', 11],
  ['13', 13],
];

const SUSPENSIONS: readonly (readonly [string, readonly number[]])[] = [
  ['sus', [4]],
  ['sus4', [4]],
  ['sus2', [2]],
  ['sus24', [2, 4]],
  ['sus2/4', [2, 4]],
  ['sus2sus4', [2, 4]],
  ['sus4sus2', [2, 4]],
];

/** Degrees that may be altered, and how. Others (a flat eleventh is a third) name a tone that has another name. */
const ALTERATIONS: readonly (readonly [degree: number, alter: number])[] = [
  [4, 1],
  [5, -1],
  [5, 1],
  [6, -1],
  [9, -1],
  [9, 1],
  [11, 1],
  [13, -1],
];

const FLATS = ['b', '-', 'flat'];
const SHARPS = ['#', '+', 'sharp'];

const ADDITIONS: readonly (readonly [degree: number, alter: number])[] = [
  ...[2, 4, 6, 9, 11, 13].map((degree): readonly [number, number] => [degree, 0]),
  ...ALTERATIONS,
];

const OMISSIONS: readonly (readonly [string, number])[] = [
  ['3', 3],
  ['3rd', 3],
  ['5', 5],
  ['5th', 5],
];

const ALTERED = ['alt', 'altered'];

function accidental(alter: number): string {
  return alter === 0 ? '' : alter < 0 ? 'b' : '#';
}

function alterRows(): readonly Row[] {
  return ALTERATIONS.flatMap(([degree, alter]) =>
    (alter < 0 ? FLATS : SHARPS).map(
      (sign): Row => [`${sign}${degree}`, { kind: 'alter', degree, alter }],
    ),
  );
}

function addRows(): readonly Row[] {
  return ADDITIONS.map(
    ([degree, alter]): Row => [`add${accidental(alter)}${degree}`, { kind: 'add', degree, alter }],
  );
}

function omitRows(): readonly Row[] {
  return ['no', 'omit'].flatMap((verb) =>
    OMISSIONS.map(([name, degree]): Row => [`${verb}${name}`, { kind: 'omit', degree }]),
  );
}

/** Every spelling and its meaning, longest spelling first. */
export const CHORD_WORDS: readonly Row[] = [
  ...HEADS.flatMap(([head, spellings]) =>
    spellings.map((spelling): Row => [spelling, { kind: 'head', head }]),
  ),
  ...LATE_SEVENTHS.map((spelling): Row => [spelling, { kind: 'majorSeventh' }]),
  ...TRIANGLES.map((spelling): Row => [spelling, { kind: 'triangle' }]),
  ...NUMBERS.map(([spelling, number]): Row => [spelling, { kind: 'number', number }]),
  ...SUSPENSIONS.map(([spelling, degrees]): Row => [spelling, { kind: 'sus', degrees }]),
  ...alterRows(),
  ...addRows(),
  ...omitRows(),
  ...ALTERED.map((spelling): Row => [spelling, { kind: 'alt' }]),
].toSorted(([one], [other]) => other.length - one.length);

/** Signs that mean the same as a plain one, each as long in UTF-16 as what replaces it, so that offsets hold. */
export const PLAIN_SIGNS: ReadonlyMap<string, string> = new Map([
  ['♭', 'b'],
  ['♯', '#'],
  ['𝄫', 'bb'],
  ['𝄪', '##'],
  ['∆', 'Δ'],
  ['△', 'Δ'],
  ['▵', 'Δ'],
  ['Ø', 'ø'],
  ['∅', 'ø'],
  ['⌀', 'ø'],
  ['º', '°'],
  ['˚', '°'],
  ['–', '-'],
  ['−', '-'],
  ['‑', '-'],
  ['⁺', '+'],
  ['\u00a0', ' '],
]);
