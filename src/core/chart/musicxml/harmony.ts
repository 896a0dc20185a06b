/**
 * Chord symbols and `<harmony>` elements. Source: MusicXML 4.0, `harmony`, `degree`; the degrees of a kind are in
 * `kinds.data.ts`. A seventh that is added is a minor one unless altered, as `degree-alter` says.
 */

import { degreeInterval } from '../../theory/degree.ts';
import {
  type ChordSymbol,
  type ChordTone,
  chordPcs,
  formatTone,
  makeTone,
  parseChordSymbol,
  STEP_LETTERS,
  type Tone,
  toneAlter,
  toneLetter,
  tonePc,
} from '../../theory/index.ts';
import { KINDS, type Kind, type KindDegree } from './kinds.data.ts';
import { child, childNumber, childrenOf, childText, type XmlElement } from './xml-tree.ts';

export interface DegreeChange {
  readonly type: 'add' | 'alter' | 'subtract';
  readonly degree: number;
  readonly alter: number;
}

/** A semitone is seven steps on the line of fifths. */
const SEMITONE = 7;

/** Interval of a degree that is added without alteration: major and perfect, but for the minor seventh. */
function addedInterval(degree: number): number {
  return degreeInterval({ degree, alter: degree === 7 ? -1 : 0 });
}

/** The kind nearest to a chord and what must be changed in it. */
export function kindOf(symbol: ChordSymbol): {
  readonly kind: Kind;
  readonly changes: readonly DegreeChange[];
} {
  const [first = FALLBACK] = KINDS;
  let best = { kind: first, changes: changesFrom(first, symbol.tones) };
  for (const kind of KINDS) {
    const changes = changesFrom(kind, symbol.tones);
    if (changes.length < best.changes.length) best = { kind, changes };
  }
  return best;
}

const FALLBACK: Kind = { value: 'other', quality: '', degrees: [] };

function changesFrom({ degrees }: Kind, tones: readonly ChordTone[]): readonly DegreeChange[] {
  const changes: DegreeChange[] = [];
  for (const { degree, interval } of degrees) {
    const own = tones.filter((tone) => tone.degree === degree);
    if (own.some((tone) => tone.interval === interval)) continue;
    const [other] = own;
    changes.push(
      other === undefined
        ? { type: 'subtract', degree, alter: 0 }
        : { type: 'alter', degree, alter: (other.interval - interval) / SEMITONE },
    );
  }
  for (const { degree, interval } of tones) {
    const isThere = degrees.some((one) => one.degree === degree && one.interval === interval);
    const isAltered = changes.some(
      (change) =>
        change.type === 'alter' &&
        change.degree === degree &&
        alteredTo(degrees, change) === interval,
    );
    if (isThere || isAltered) continue;
    changes.push({ type: 'add', degree, alter: (interval - addedInterval(degree)) / SEMITONE });
  }
  return changes;
}

function alteredTo(degrees: readonly KindDegree[], { degree, alter }: DegreeChange): number | null {
  const own = degrees.find((one) => one.degree === degree);
  return own === undefined ? null : own.interval + alter * SEMITONE;
}

/** What a `<harmony>` was read as: a chord, no chord, or nothing that is known. */
export type ReadHarmony =
  | { readonly kind: 'chord'; readonly symbol: ChordSymbol; readonly remark: string | null }
  | { readonly kind: 'none' }
  | { readonly kind: 'unknown'; readonly read: string };

/** Reads an element. The written text is kept where it means the chord that kind and degrees spell out. */
export function readHarmony(harmony: XmlElement): ReadHarmony {
  const kind = child(harmony, 'kind');
  const value = kind?.text ?? '';
  const written = kind?.attributes['text'] ?? '';
  if (value === 'none' || /^n\.?c\.?$/iu.test(written)) return { kind: 'none' };
  const root = readTone(harmony, 'root');
  if (root === null) {
    const numeral = childText(harmony, 'numeral', 'numeral-root') ?? childText(harmony, 'function');
    return { kind: 'unknown', read: `the harmony ${numeral ?? 'without a root'}` };
  }
  const bass = readTone(harmony, 'bass');
  const slash = bass === null ? '' : `/${formatTone(bass)}`;
  const name = formatTone(root);
  const byText = written === '' ? null : symbolOf(name + written + slash);
  if (childrenOf(harmony, 'degree').some(isImpossible)) {
    return {
      kind: 'unknown',
      read: `the chord ${name}${written || value}, whose degrees cannot be,`,
    };
  }
  const spelled = spelledTones(value, harmony);
  if (spelled === null) {
    return byText === null
      ? { kind: 'unknown', read: `the kind of chord “${written || value}”` }
      : {
          kind: 'chord',
          symbol: byText,
          remark: `the kind of chord “${value}” was read by its text “${written}”`,
        };
  }
  const wanted = pcsOf(root, spelled);
  if (byText !== null && samePcs(byText, wanted)) {
    return { kind: 'chord', symbol: byText, remark: null };
  }
  const found = symbolFor(name, slash, value, changesOf(harmony), wanted);
  return found ?? { kind: 'unknown', read: `the chord ${name}${written || value}` };
}

function symbolOf(text: string): ChordSymbol | null {
  const read = parseChordSymbol(text);
  return read.ok ? read.value : null;
}

function pcsOf(root: Tone, intervals: readonly number[]): ReadonlySet<number> {
  return new Set(intervals.map((interval) => tonePc(root + interval)));
}

function samePcs(symbol: ChordSymbol, wanted: ReadonlySet<number>): boolean {
  const own = new Set(chordPcs(symbol));
  return own.size === wanted.size && [...own].every((pc) => wanted.has(pc));
}

/** A thirteenth chord holds its eleventh in the standard and leaves it out on a lead sheet. */
function isMeantSame(symbol: ChordSymbol, wanted: ReadonlySet<number>, value: string): boolean {
  if (samePcs(symbol, wanted)) return true;
  if (!/13th$/u.test(value)) return false;
  const eleventh = tonePc(symbol.root - 1);
  return samePcs(symbol, new Set([...wanted].filter((pc) => pc !== eleventh)));
}

/** The symbol of a kind with its degrees written after it, when a lead sheet has one that means the same. */
function symbolFor(
  name: string,
  slash: string,
  value: string,
  changes: readonly DegreeChange[],
  wanted: ReadonlySet<number>,
): ReadHarmony | null {
  const quality = KINDS.find((kind) => kind.value === value)?.quality ?? '';
  const signs = changes.map(signOf);
  const tries = [
    ...(value === 'suspended-fourth' && changes.length > 0 ? ['7sus4', '9sus4', '13sus4'] : []),
    ...(value === 'major-sixth' && changes.length > 0 ? ['6/9'] : []),
    quality + signs.join(''),
    quality + (signs.length === 0 ? '' : `(${signs.join(',')})`),
    quality + changes.map((change) => signOf({ ...change, type: 'alter' })).join(''),
    `${quality}${changes.map((change) => `add${signOf({ ...change, type: 'alter' })}`).join('')}`,
  ];
  for (const text of tries) {
    const symbol = symbolOf(name + text + slash);
    if (symbol !== null && isMeantSame(symbol, wanted, value)) {
      return { kind: 'chord', symbol, remark: null };
    }
  }
  const plain = symbolOf(name + quality + slash);
  if (plain === null) return null;
  const remark = `the chord ${plain.text} has degrees a chord symbol cannot say (${signs.join(', ')}); they were left out`;
  return { kind: 'chord', symbol: plain, remark };
}

function signOf({ type, degree, alter }: DegreeChange): string {
  const sign = alter < 0 ? 'b'.repeat(-alter) : '#'.repeat(alter);
  if (type === 'subtract') return `no${degree}`;
  return type === 'add' && sign === '' ? `add${degree}` : `${sign}${degree}`;
}

/** Degrees and alterations a chord can have; an alteration beyond two signs is no name any more. Own rule. */
const HIGHEST_DEGREE = 13;
const MOST_SIGNS = 2;

function isImpossible(element: XmlElement): boolean {
  const degree = childNumber(element, 'degree-value') ?? 1;
  const alter = childNumber(element, 'degree-alter') ?? 0;
  const isDegree = Number.isInteger(degree) && degree >= 1 && degree <= HIGHEST_DEGREE;
  return !isDegree || Math.abs(alter) > MOST_SIGNS;
}

function changesOf(harmony: XmlElement): readonly DegreeChange[] {
  return childrenOf(harmony, 'degree').flatMap((element): DegreeChange[] => {
    const degree = childNumber(element, 'degree-value');
    const alter = childNumber(element, 'degree-alter') ?? 0;
    const type = childText(element, 'degree-type');
    if (degree === null || (type !== 'add' && type !== 'alter' && type !== 'subtract')) return [];
    return [{ type, degree, alter: Math.trunc(alter) }];
  });
}

/** The intervals of a kind with its degrees, or null for a kind that is not known. */
function spelledTones(value: string, harmony: XmlElement): readonly number[] | null {
  const kind = KINDS.find((one) => one.value === value);
  if (kind === undefined) return null;
  const degrees = [...kind.degrees];
  for (const { type, degree, alter } of changesOf(harmony)) {
    const at = degrees.findIndex((one) => one.degree === degree);
    const own = degrees[at];
    if (type === 'add')
      degrees.push({ degree, interval: addedInterval(degree) + alter * SEMITONE });
    else if (own === undefined) {
      if (type === 'alter')
        degrees.push({ degree, interval: addedInterval(degree) + alter * SEMITONE });
    } else if (type === 'subtract') degrees.splice(at, 1);
    else degrees[at] = { degree, interval: own.interval + alter * SEMITONE };
  }
  return degrees.map(({ interval }) => interval);
}

function readTone(harmony: XmlElement, name: 'root' | 'bass'): Tone | null {
  const element = child(harmony, name);
  const step = childText(element, `${name}-step`);
  const letter = STEP_LETTERS.find((one) => one === step);
  const alter = Math.trunc(childNumber(element, `${name}-alter`) ?? 0);
  if (letter === undefined || Math.abs(alter) > 1) return null;
  return makeTone(letter, alter);
}

/** A tone as step and alteration, as the standard writes them. */
export function stepAndAlter(tone: Tone): { readonly step: string; readonly alter: number } {
  return { step: toneLetter(tone), alter: toneAlter(tone) };
}
