/** The nearest known spelling of a word that was not understood. */

import { distance } from 'fastest-levenshtein';

/**
 * The candidate with the fewest single-character edits from `word`, the first on a tie, or null when even that one
 * needs more than two fifths of the word's length (and more than one). `plain` tells how candidates are compared;
 * `isAllowed` may refuse one. In: a word of bounded length. Source of the limit: own rule.
 */
export function nearestWord(
  word: string,
  candidates: Iterable<string>,
  plain: (candidate: string) => string = (candidate) => candidate,
  isAllowed: (candidate: string) => boolean = () => true,
): string | null {
  let best: string | null = null;
  let fewest = Math.max(1, Math.floor(word.length * 0.4)) + 1;
  for (const candidate of candidates) {
    const edits = distance(word, plain(candidate));
    if (edits < fewest && isAllowed(candidate)) {
      best = candidate;
      fewest = edits;
    }
  }
  return best;
}

/** Longer words are not typing slips of any word we know, and comparing them would cost time. */
const MAX_WORD_LENGTH = 40;

/** The same with case aside, for words of any length; null for an empty word. */
export function nearestWordAnyCase(word: string, candidates: readonly string[]): string | null {
  if (word.length === 0 || word.length > MAX_WORD_LENGTH) return null;
  return nearestWord(word.toLowerCase(), candidates, (candidate) => candidate.toLowerCase());
}
