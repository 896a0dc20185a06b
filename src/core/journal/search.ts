/** Finding sessions again. */

import type { JournalTake, PracticeSession } from './model.ts';

/**
 * Sessions in which every word of the search is found: in a title, a remark, the name of a plan or of a level, or as a key
 * in full. Capitals do not matter. A search without a word finds all.
 */
export function findSessions(
  sessions: readonly PracticeSession[],
  search: string,
): readonly PracticeSession[] {
  const words = search.toLowerCase().split(/\s+/).filter(Boolean);
  if (words.length === 0) return sessions;
  return sessions.filter(({ takes, remarks }) => {
    const text = [...takes.map(textOf), ...remarks.map((remark) => remark.text)].join('\n');
    const whole = text.toLowerCase();
    const keys = new Set(takes.map(({ key }) => key.toLowerCase()));
    return words.every((word) => whole.includes(word) || keys.has(word));
  });
}

function textOf({ chartTitle, plan, level, note }: JournalTake): string {
  return `${chartTitle}\n${plan}\n${level}\n${note}`;
}
