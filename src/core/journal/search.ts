/** Finding sessions and remarks again. */

import type { Journal, JournalTake } from './model.ts';

/**
 * What of a journal is found: sessions with every word of the search in a title, a remark, the name of a plan or of a level, or
 * as a key in full; remarks of which no take is left, by their own words. Capitals do not matter. A search without a word finds
 * all.
 */
export function findInJournal({ sessions, looseRemarks }: Journal, search: string): Journal {
  const words = search.toLowerCase().split(/\s+/).filter(Boolean);
  const isFound = (texts: readonly string[], keys: readonly string[]): boolean => {
    const whole = texts.join('\n').toLowerCase();
    return words.every((word) => whole.includes(word) || keys.includes(word));
  };
  return {
    sessions: sessions.filter(({ takes, remarks }) =>
      isFound(
        [...takes.map(textOf), ...remarks.map(({ text }) => text)],
        takes.map(({ key }) => key.toLowerCase()),
      ),
    ),
    looseRemarks: looseRemarks.filter(({ text }) => isFound([text], [])),
  };
}

function textOf({ chartTitle, plan, level, note }: JournalTake): string {
  return `${chartTitle}\n${plan}\n${level}\n${note}`;
}
