/** The nearest known spelling of a word that was not understood. */

import { distance } from 'fastest-levenshtein';

/** Longer words are not typing slips of any word we know, and comparing them would cost time. */
const MAX_WORD_LENGTH = 40;

/**
 * The candidate with the fewest single-letter edits from `word`, case aside, when they are at most two fifths of
 * the word's length, or one; the first such candidate on a tie. Null when none is near.
 * Source of the limit: own rule.
 */
export function nearestOf(word: string, candidates: readonly string[]): string | null {
  if (word.length === 0 || word.length > MAX_WORD_LENGTH) return null;
  const wanted = word.toLowerCase();
  let best: string | null = null;
  let bestDistance = Math.max(1, Math.floor(word.length * 0.4)) + 1;
  for (const candidate of candidates) {
    const edits = distance(wanted, candidate.toLowerCase());
    if (edits < bestDistance) {
      best = candidate;
      bestDistance = edits;
    }
  }
  return best;
}
