/** Palettes for a chord where it stands, best first. */

import { chordPcs } from '../chord-names.ts';
import type { ChordFamily } from '../chord-symbol.ts';
import { NOTES_NAME, type Palette, paletteMask, paletteTones, pcMask } from '../palette.ts';
import { readableTone } from '../readable-tone.ts';
import { findScale, SCALES, type Scale, scalePalette } from '../scales.ts';
import { formatTone, tonePc } from '../tone.ts';
import { type PaletteColour, paletteColour } from './colour.ts';
import { DOMINANT_RULES } from './dominant.rules.ts';
import { AUGMENTED_RULES, MAJOR_RULES } from './major.rules.ts';
import { MINOR_RULES } from './minor.rules.ts';
import {
  DIMINISHED_RULES,
  HALF_DIMINISHED_RULES,
  POWER_RULES,
  SUSPENDED_RULES,
} from './other.rules.ts';
import { type ChoiceInput, leadsToMinor, type Place, placeOf } from './place.ts';
import type { Offer, PaletteRule } from './rule.ts';

/** A palette for a chord, why, and how it sounds beside the first choice. */
export interface PaletteChoice {
  readonly palette: Palette;
  /** One line a player can read. */
  readonly reason: string;
  readonly colour: PaletteColour;
}

const RULES: Readonly<Record<ChordFamily, readonly PaletteRule[]>> = {
  major: MAJOR_RULES,
  minor: MINOR_RULES,
  dominant: DOMINANT_RULES,
  halfDiminished: HALF_DIMINISHED_RULES,
  diminished: DIMINISHED_RULES,
  augmented: AUGMENTED_RULES,
  suspended: SUSPENDED_RULES,
  power: POWER_RULES,
};

/** A player wants a few alternatives, not a catalogue. Own rule. */
const MOST_CHOICES = 8;
const FEWEST_CHOICES = 3;

interface Candidate {
  readonly scale: Scale;
  readonly palette: Palette;
  readonly reason: string;
  /** Chord tones the palette lacks, as a bit set. */
  readonly missing: number;
}

/**
 * Ranks the palettes for a chord. In: the chord, the key, and the different chords before and after, nearest first; a
 * ii–V–I is seen from its ii. Out: one to eight choices, all on the chord's root, the proposal first, no two with the same
 * pitch classes. Every palette holds the chord's own tones, with two exceptions: the altered and the whole-tone scale over
 * a dominant may leave out its perfect fifth, the proposal only for a chord with #9; and phrygian dominant, never as the
 * proposal, may leave out the #9 of a dominant towards minor. A palette that holds the bass note
 * after a slash goes before one that does not. A chord no scale holds gets its own tones as palette.
 * Source: the rules' own files.
 */
export function choosePalettes(input: ChoiceInput): readonly PaletteChoice[] {
  const place = placeOf(input);
  const ranked = proposalFirst(place, bassFirst(place, candidates(place)));
  const chosen = ranked.slice(0, MOST_CHOICES);
  const first = chosen[0];
  if (first === undefined) return [ownTones(place)];
  return chosen.map(({ palette, reason, scale }) => ({
    palette,
    reason,
    colour: paletteColour(scale, first.scale),
  }));
}

function candidates(place: Place): readonly Candidate[] {
  const offered = RULES[place.symbol.family]
    .filter((rule) => rule.when(place))
    .flatMap((rule) => rankOffers(place, rule));
  const held = distinct(offered.filter((candidate) => mayServe(place, candidate)));
  return held.length >= FEWEST_CHOICES ? held : distinct([...held, ...search(place)]);
}

function rankOffers(place: Place, { offers, keyFirst }: PaletteRule): readonly Candidate[] {
  const ranked = offers.map((offer) => candidate(place, offer));
  return keyFirst === true
    ? ranked.toSorted((one, other) => sharedWithKey(place, other) - sharedWithKey(place, one))
    : ranked;
}

function candidate({ symbol }: Place, { scale: name, reason }: Offer): Candidate {
  const scale = findScale(name);
  if (scale === null) throw new Error(`a rule names an unknown scale: ${name}`);
  const palette = scalePalette(scale, symbol.root);
  return { scale, palette, reason, missing: pcMask(chordPcs(symbol)) & ~paletteMask(palette) };
}

function sharedWithKey({ keyMask }: Place, { palette }: Candidate): number {
  return palette.pcs.filter((pc) => (keyMask >> pc) & 1).length;
}

/** Scales that may leave out a perfect fifth; over chords that have one, only the rules for dominants offer them. */
const WITHOUT_FIFTH: readonly string[] = ['altered', 'whole tone'];
/** On the line of fifths. */
const FIFTH = 1;
const SHARP_NINTH = 9;

function mayServe(place: Place, { scale, missing }: Candidate): boolean {
  if (missing === 0) return true;
  if (WITHOUT_FIFTH.includes(scale.name)) return missing === tonePlace(place, FIFTH);
  const isNinth = missing === tonePlace(place, SHARP_NINTH) && place.tones.has('#9');
  return scale.name === 'phrygian dominant' && isNinth && leadsToMinor(place);
}

/** The tone an interval above the chord's root, as a bit set. */
function tonePlace({ symbol }: Place, interval: number): number {
  return 1 << tonePc(symbol.root + interval);
}

/** Longer scales hold nearly everything and say nothing; a two-way one is offered only by rule. */
const SEARCHED_SIZES: readonly number[] = [7, 8];

/** Scales of the catalogue that hold the chord's tones, those nearest to the key first. */
function search(place: Place): readonly Candidate[] {
  const reason = "holds all of the chord's tones";
  return SCALES.filter(
    ({ intervals, falling }) => SEARCHED_SIZES.includes(intervals.length) && falling === null,
  )
    .map(({ name }) => candidate(place, { scale: name, reason }))
    .filter(({ missing }) => missing === 0)
    .toSorted((one, other) => sharedWithKey(place, other) - sharedWithKey(place, one))
    .slice(0, FEWEST_CHOICES);
}

function distinct(ranked: readonly Candidate[]): readonly Candidate[] {
  const seen = new Set<number>();
  return ranked.filter(({ palette }) => {
    const mask = paletteMask(palette);
    const isNew = !seen.has(mask);
    seen.add(mask);
    return isNew;
  });
}

function bassFirst({ symbol }: Place, ranked: readonly Candidate[]): readonly Candidate[] {
  if (symbol.bass === null) return ranked;
  const bass = 1 << tonePc(symbol.bass);
  const holdsBass = ({ palette }: Candidate): boolean => (paletteMask(palette) & bass) !== 0;
  return [...ranked.filter(holdsBass), ...ranked.filter((choice) => !holdsBass(choice))];
}

/** Brings the first palette that may lead to the front. */
function proposalFirst(place: Place, ranked: readonly Candidate[]): readonly Candidate[] {
  const mayLack = place.tones.has('#9') ? tonePlace(place, FIFTH) : 0;
  const first = ranked.find(({ missing }) => missing === 0 || missing === mayLack);
  return first === undefined ? [] : [first, ...ranked.filter((choice) => choice !== first)];
}

function ownTones({ symbol }: Place): PaletteChoice {
  const { root } = symbol;
  const up = (pc: number): number => (pc - tonePc(root) + 12) % 12;
  const tones = symbol.tones
    .map(({ interval }) => readableTone(root + interval))
    .filter(
      (tone, index, every) => every.findIndex((one) => tonePc(one) === tonePc(tone)) === index,
    )
    .toSorted((one, other) => up(tonePc(one)) - up(tonePc(other)));
  const palette: Palette = {
    name: NOTES_NAME,
    root: formatTone(readableTone(root)),
    ...paletteTones(tones),
    falling: null,
  };
  return { palette, reason: "the chord's own tones: no scale holds them all", colour: 'inside' };
}
