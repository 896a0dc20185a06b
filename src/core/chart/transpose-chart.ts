/** A chart in another key: the key, every chord and every palette the chart names, spelled for the new key. */

import { failure, type Outcome, success } from '../problem.ts';
import {
  type ChordSymbol,
  formatPaletteText,
  parsePaletteText,
  plainShift,
  transposeChordSymbol,
} from '../theory/index.ts';
import { formatKey, type Key, keyFifths } from '../theory/key.ts';
import { type Palette, type PaletteTones, paletteTones } from '../theory/palette.ts';
import {
  formatTone,
  type Interval,
  makeTone,
  parseTone,
  STEP_LETTERS,
  type Tone,
  toneAlter,
} from '../theory/tone.ts';
import type {
  BarContent,
  Chart,
  ChosenPalette,
  Form,
  FormChord,
  GivenPalette,
  WrittenChord,
} from './model.ts';

/** The chart is in the other mode; `suggestion` is the key of its own mode on the same tonic. */
export interface ModeProblem {
  readonly code: 'otherMode';
  readonly read: string;
  readonly expected: string;
  readonly suggestion: string;
}

/** One accidental more or less on the line of fifths: the same pitch under the next name. */
const ENHARMONIC: Interval = 12;

/** Signatures up to this many sharps or flats are preferred. Common practice, no source. */
const PREFERRED_FIFTHS = 6;

/**
 * Moves a chart by an interval (on the line of fifths: a minor third is −3). Where the new key would have more than
 * six sharps or flats it takes its other name (C# becomes Db), and of six sharps and six flats the one with fewer accidentals
 * over the chart; a chord takes its other name as `plainShift` says. Moving by 0 changes nothing. There and back gives the
 * same chart when neither way needs another name for a root or a bass and the chart's own signature has at most five.
 */
export function transposeChart(chart: Chart, by: Interval): Chart {
  if (by === 0) return chart;
  const moved = moveChart(chart, by + enharmonicFor(keyFifths(chart.key) + by));
  return transposeToEasierKey(moved);
}

/** The chart under the other name of its key where that has six sharps or flats and fewer accidentals; else as it is. */
export function transposeToEasierKey(chart: Chart): Chart {
  return easier(chart, (by) => moveChart(chart, by), symbolsOfChart);
}

/**
 * Of F# and Gb, of D#m and Ebm, the one in which the chords have fewer accidentals; at a tie the one whose signature has
 * more of their tones, and the one there is where that is a tie too. Own rule.
 */
function easier<Piece extends { readonly key: Key }>(
  piece: Piece,
  move: (by: Interval) => Piece,
  symbolsOf: (piece: Piece) => readonly ChordSymbol[],
): Piece {
  const fifths = keyFifths(piece.key);
  if (Math.abs(fifths) !== PREFERRED_FIFTHS) return piece;
  const other = move(-Math.sign(fifths) * ENHARMONIC);
  const own = readingCost(piece.key, symbolsOf(piece));
  const others = readingCost(other.key, symbolsOf(other));
  const less = others.accidentals - own.accidentals || others.outside - own.outside;
  return less < 0 ? other : piece;
}

/** Over the tones and the bass of every different chord: sharps and flats, and tones that the signature does not have. */
function readingCost(key: Key, symbols: readonly ChordSymbol[]) {
  const different = new Map(symbols.map((symbol) => [symbol.text, symbol])).values();
  const tones = [...different].flatMap(({ root, bass, tones: own }) => [
    ...own.map(({ interval }) => root + interval),
    ...(bass === null ? [] : [bass]),
  ]);
  const lowest = keyFifths(key) - 1;
  return {
    accidentals: tones.reduce((sum, tone) => sum + Math.abs(toneAlter(tone)), 0),
    outside: tones.filter((tone) => tone < lowest || tone > lowest + 6).length,
  };
}

/** The chords as the chart itself has them, without its other plans. */
function symbolsOfChart({ pickup, sections }: Chart): readonly ChordSymbol[] {
  const contents = sections.flatMap(({ bars }) => bars.map(({ content }) => content));
  const chords = contents.flatMap((content) => (content.kind === 'same' ? [] : content.chords));
  return [...(pickup?.chords ?? []), ...chords].flatMap(({ symbol }) => symbol ?? []);
}

/**
 * Moves an unrolled form by so many semitones (−11 to 11), spelled as `transposeChart` spells: the form the chart would unroll to
 * in the other key, for whoever has the form alone. The reasons given for palettes stay as they are, and a note of a palette may
 * keep a double accidental that the moved chart would not write.
 */
export function transposeForm(form: Form, semitones: number): Form {
  const fifths = fifthsOf(semitones);
  if (fifths === 0) return form;
  const moved = moveForm(form, fifths + enharmonicFor(keyFifths(form.key) + fifths));
  return easier(moved, (by) => moveForm(moved, by), symbolsOfForm);
}

function symbolsOfForm({ pickup, bars }: Form): readonly ChordSymbol[] {
  const chords = [...(pickup?.chords ?? []), ...bars.flatMap((bar) => bar.chords)];
  return chords.flatMap(({ symbol }) => symbol ?? []);
}

function moveForm(form: Form, by: Interval): Form {
  const key = { ...form.key, tonic: form.key.tonic + by };
  return {
    ...form,
    key,
    pickup: form.pickup && {
      ...form.pickup,
      chords: form.pickup.chords.map((chord) => moveFormChord(chord, by, key)),
    },
    bars: form.bars.map((bar) => ({
      ...bar,
      chords: bar.chords.map((chord) => moveFormChord(chord, by, key)),
    })),
  };
}

/** The interval of so many semitones that is nearest on the line of fifths: −5 to 6. */
function fifthsOf(semitones: number): Interval {
  const fifths = (((semitones * 7) % 12) + 12) % 12;
  return fifths > 6 ? fifths - 12 : fifths;
}

/**
 * Moves a chart to a key, spelled as that key is named. Problem: `otherMode` when the key is major and the chart
 * minor, or the other way round: a chart does not change its mode.
 */
export function transposeToKey(chart: Chart, key: Key): Outcome<Chart, ModeProblem> {
  if (key.mode === chart.key.mode) return success(moveChart(chart, key.tonic - chart.key.tonic));
  const suggestion = formatKey({ ...key, mode: chart.key.mode });
  const expected = `a ${chart.key.mode} key, as the chart's own ${formatKey(chart.key)}`;
  return failure({ code: 'otherMode', read: formatKey(key), expected, suggestion });
}

/** What to add so that a signature comes within six, where one step of another name is enough. */
function enharmonicFor(fifths: number): Interval {
  if (fifths > PREFERRED_FIFTHS)
    return -ENHARMONIC * Math.ceil((fifths - PREFERRED_FIFTHS) / ENHARMONIC);
  if (fifths < -PREFERRED_FIFTHS)
    return ENHARMONIC * Math.ceil((-PREFERRED_FIFTHS - fifths) / ENHARMONIC);
  return 0;
}

function moveChart(chart: Chart, by: Interval): Chart {
  if (by === 0) return chart;
  const key = { ...chart.key, tonic: chart.key.tonic + by };
  return {
    ...chart,
    key,
    // From an estimate on, whoever moves the chart says where to.
    keyGiven: true,
    pickup: chart.pickup && {
      ...chart.pickup,
      chords: chart.pickup.chords.map((chord) => moveChord(chord, by, key)),
    },
    sections: chart.sections.map((section) => ({
      ...section,
      bars: section.bars.map((bar) => ({ ...bar, content: moveContent(bar.content, by, key) })),
    })),
    plans: chart.plans.map((plan) => ({
      ...plan,
      bars: plan.bars.map((content) => moveContent(content, by, key)),
    })),
  };
}

function moveContent(content: BarContent, by: Interval, key: Key): BarContent {
  if (content.kind === 'same') return content;
  return { ...content, chords: content.chords.map((chord) => moveChord(chord, by, key)) };
}

function moveFormChord(chord: FormChord, by: Interval, key: Key): FormChord {
  if (chord.symbol === null) return chord;
  const spelledBy = spelledShift(chord.symbol, by, key);
  const move = <Choice extends ChosenPalette>(choice: Choice): Choice => ({
    ...choice,
    palette: movePalette(choice.palette, spelledBy),
  });
  return {
    ...chord,
    symbol: transposeChordSymbol(chord.symbol, spelledBy),
    chosen: chord.chosen && move(chord.chosen),
    alternatives: chord.alternatives.map(move),
  };
}

function moveChord(chord: WrittenChord, by: Interval, key: Key): WrittenChord {
  if (chord.symbol === null) return chord;
  const spelledBy = spelledShift(chord.symbol, by, key);
  const symbol = transposeChordSymbol(chord.symbol, spelledBy);
  const given = chord.given === null ? null : moveGiven(chord.given, spelledBy, symbol.root);
  return { ...chord, symbol, given };
}

/** Bass and palette take the other name of a root with it, or the chord would be spelled in two keys at once. */
function spelledShift(symbol: ChordSymbol, by: Interval, key: Key): Interval {
  const simple = by + simplifyingShift(symbol.root + by);
  return simple + plainShift({ ...symbol, root: symbol.root + simple }, key);
}

/** What to add to a root until it has one accidental at most. */
function simplifyingShift(root: Tone): Interval {
  let shift = 0;
  while (toneAlter(root + shift) < -1) shift += ENHARMONIC;
  while (toneAlter(root + shift) > 1) shift -= ENHARMONIC;
  return shift;
}

/**
 * The writer's own words are kept: a scale on the chord's root needs no new text, and notes in the text move one by
 * one. Where that does not read back as the moved palette, the palette is written out afresh.
 */
export function moveGiven(given: GivenPalette, by: Interval, newRoot: Tone): GivenPalette {
  const wanted = movePalette(given.palette, by);
  const text = given.text.replace(/\S+/gu, (word) => {
    const tone = parseTone(word);
    return tone === null ? word : formatTone(tone + by);
  });
  return (
    readBack(text, newRoot, wanted) ??
    readBack(formatPaletteText(wanted, newRoot), newRoot, wanted) ?? { text, palette: wanted }
  );
}

function readBack(text: string, root: Tone, wanted: Palette): GivenPalette | null {
  const read = parsePaletteText(text, root);
  return read.ok && hasSamePcs(read.value, wanted) ? { text, palette: read.value } : null;
}

function hasSamePcs(one: Palette, other: Palette): boolean {
  return (
    one.pcs.join() === other.pcs.join() && one.falling?.pcs.join() === other.falling?.pcs.join()
  );
}

function movePalette(palette: Palette, by: Interval): Palette {
  return {
    name: palette.name,
    ...moveTones(palette, by),
    root: moveName(palette.root, by),
    falling: palette.falling === null ? null : moveTones(palette.falling, by),
  };
}

function moveTones(tones: PaletteTones, by: Interval): PaletteTones {
  return paletteTones(tones.notes.map((name) => toneOfName(name) + by));
}

function moveName(name: string, by: Interval): string {
  return formatTone(toneOfName(name) + by);
}

/** Unlike `parseTone` it takes any number of accidentals: a palette far from C may be spelled with three. */
function toneOfName(name: string): Tone {
  const letter = STEP_LETTERS.find((candidate) => name.startsWith(candidate)) ?? 'C';
  const accidentals = name.slice(1);
  return makeTone(letter, accidentals.startsWith('b') ? -accidentals.length : accidentals.length);
}
