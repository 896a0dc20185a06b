/** What a key may be at its place: inside its palette, or outside and excused; and what it then claims of the next. */

import { hasPc, type PaletteView } from '../../grading/index.ts';
import { CLAIM } from './claims.ts';
import type { LineEntry } from './entries.ts';
import type { LegalRules } from './rules.ts';

/** One reading of a key at its place. */
export interface ToneOption {
  readonly claim: number;
  /** Inside the palette in force, or none is. */
  readonly inside: boolean;
  readonly excuse: 'none' | 'approach' | 'lineUp' | 'anticipation';
}

const SETTLED: ToneOption = { claim: CLAIM.none, inside: true, excuse: 'none' };

/** Where a degree belongs that differs rising and falling. */
type Way = 1 | -1;

/**
 * All readings of a pitch class at an entry when it is reached by a move in a direction (1, −1, or 0 for a repeat and
 * for the first note). No reading: the key cannot stand here.
 */
export function toneOptions(
  entry: LineEntry,
  pc: number,
  direction: number,
  rules: LegalRules,
): readonly ToneOption[] {
  const { palette } = entry;
  if (palette === null || hasPc(palette.certainMask, pc)) return [SETTLED];
  if (!hasPc(palette.mask, pc)) return outsideOptions(entry, pc, [1, -1], rules);
  if (!rules.twoWay) return [SETTLED];
  return twoWayOptions(entry, palette, pc, direction, rules);
}

/**
 * A degree of one form only. While its chord goes on, the next move decides, or, at a repeat, the move before; then
 * both readings are open and each claims the move that makes it true. At the chord's end the move before decides.
 */
function twoWayOptions(
  entry: LineEntry,
  palette: PaletteView,
  pc: number,
  direction: number,
  rules: LegalRules,
): readonly ToneOption[] {
  const way: Way = hasPc(palette.rising.mask, pc) ? 1 : -1;
  const cameThatWay = direction === 0 || direction === way;
  if (!entry.chordGoesOn) {
    return cameThatWay ? [SETTLED] : outsideOptions(entry, pc, [1, -1], rules);
  }
  const inside: ToneOption = { ...SETTLED, claim: moveClaim(way, cameThatWay) };
  const against: Way = way === 1 ? -1 : 1;
  const outside = outsideOptions(entry, pc, [against], rules).map((option) =>
    option.claim === CLAIM.none ? { ...option, claim: moveClaim(against, !cameThatWay) } : option,
  );
  return [inside, ...outside];
}

function moveClaim(way: Way, orStay: boolean): number {
  if (way === 1) return orStay ? CLAIM.riseOrStay : CLAIM.rise;
  return orStay ? CLAIM.fallOrStay : CLAIM.fall;
}

/** Readings of an outside note whose next move may go in these directions. */
function outsideOptions(
  entry: LineEntry,
  pc: number,
  ways: readonly Way[],
  rules: LegalRules,
): readonly ToneOption[] {
  if (entry.upcoming !== null && hasPc(entry.upcoming.mask, pc)) {
    // The grader looks for an anticipation before it looks for an approach.
    return [{ claim: CLAIM.none, inside: false, excuse: 'anticipation' }];
  }
  if (!rules.outside || entry.isLast) return [];
  const resolve =
    ways.length === 2 ? CLAIM.resolve : ways[0] === 1 ? CLAIM.resolveUp : CLAIM.resolveDown;
  if (rules.approach === 'allow') {
    const passes = ways.map((way) => (way === 1 ? CLAIM.passUp : CLAIM.passDown));
    return [resolve, ...passes].map((claim) => ({
      claim,
      inside: false,
      excuse: 'approach' as const,
    }));
  }
  if (rules.lineUp === 'allow' && standsByChange(entry)) {
    return [{ claim: resolve, inside: false, excuse: 'lineUp' }];
  }
  return [];
}

function standsByChange({ sinceChange, beforeChange }: LineEntry): boolean {
  return beforeChange || sinceChange === 0 || sinceChange === 1;
}
