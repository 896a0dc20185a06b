import { describe, expect, it } from 'vitest';
import { DOMINANT_RULES } from '../../../src/core/theory/choice/dominant.rules.ts';
import { AUGMENTED_RULES, MAJOR_RULES } from '../../../src/core/theory/choice/major.rules.ts';
import { MINOR_RULES } from '../../../src/core/theory/choice/minor.rules.ts';
import {
  DIMINISHED_RULES,
  HALF_DIMINISHED_RULES,
  POWER_RULES,
  SUSPENDED_RULES,
} from '../../../src/core/theory/choice/other.rules.ts';
import { type Place, placeOf } from '../../../src/core/theory/choice/place.ts';
import { type ChordSymbol, findScale, tonePc } from '../../../src/core/theory/index.ts';
import { chord, SPELLINGS, splitOutsideParentheses } from './symbols.ts';

const TABLES = {
  augmented: AUGMENTED_RULES,
  diminished: DIMINISHED_RULES,
  dominant: DOMINANT_RULES,
  halfDiminished: HALF_DIMINISHED_RULES,
  major: MAJOR_RULES,
  minor: MINOR_RULES,
  power: POWER_RULES,
  suspended: SUSPENDED_RULES,
};

/** One chord of every kind on every degree of C and Cm, with neighbours of the kinds the rules ask about. */
const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];
const KINDS = SPELLINGS.map(([, spellings]) => splitOutsideParentheses(spellings)[0] ?? '');

function onEveryRoot(quality: string): readonly ChordSymbol[] {
  return ROOTS.map((root) => chord(root + quality));
}

function placesOf(family: string): readonly Place[] {
  const symbols = KINDS.flatMap(onEveryRoot).filter((symbol) => symbol.family === family);
  const neighbours = ['7', 'm7', 'maj7', 'm7b5'].flatMap(onEveryRoot);
  const around = [
    { before: [], after: [] },
    ...neighbours.flatMap((one) => [
      { before: [one], after: [] },
      { before: [one, chord(`${ROOTS[(tonePc(one.root) + 7) % 12] ?? ''}m7`)], after: [] },
      { before: [], after: [one] },
      ...['maj7', '7', 'm7'].map((quality) => ({
        before: [],
        after: [one, aFourthAbove(one, quality)],
      })),
    ]),
  ];
  return (['major', 'minor'] as const).flatMap((mode) =>
    symbols.flatMap((symbol) =>
      around.map((chords) => placeOf({ symbol, key: { tonic: 0, mode }, ...chords })),
    ),
  );
}

function aFourthAbove({ root }: ChordSymbol, quality: string): ChordSymbol {
  return chord((ROOTS[(tonePc(root) + 5) % 12] ?? '') + quality);
}

describe.each(Object.entries(TABLES))('the rules for %s chords', (family, rules) => {
  it('name scales of the catalogue and give short reasons', () => {
    for (const { offers } of rules) expect(offers).not.toEqual([]);
    for (const { scale, reason } of rules.flatMap(({ offers }) => offers)) {
      expect([scale, findScale(scale)?.name]).toEqual([scale, scale]);
      expect(reason.length).toBeGreaterThan(10);
      expect(reason.length).toBeLessThanOrEqual(80);
      expect(reason).toMatch(/^[a-z#IV]/);
    }
  });

  it('all hold somewhere, and but for the last not everywhere', () => {
    const places = placesOf(family);
    const held = rules.map(({ when }) => places.some((place) => when(place)));
    const missed = rules.map(({ when }) => places.some((place) => !when(place)));
    expect(held).toEqual(rules.map(() => true));
    expect(missed.slice(0, -1)).toEqual(rules.slice(1).map(() => true));
  });
});
