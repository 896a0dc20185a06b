/** What a practice is known by: two takes of the same chart, plan, key and level are the same practice. */

import type { Level } from '../words.ts';

export interface PracticeName {
  readonly chartId: string;
  readonly plan: string;
  /** As text: `Bb`, `F#m`. */
  readonly key: string;
  readonly level: Level;
}

/** The name alone, of anything that has one. */
export function nameOfPractice({ chartId, plan, key, level }: PracticeName): PracticeName {
  return { chartId, plan, key, level };
}

/** The name as one text, the same for the same practice alone. */
export function practiceId({ chartId, plan, key, level }: PracticeName): string {
  return JSON.stringify([chartId, plan, key, level]);
}

export function isSamePractice(one: PracticeName, other: PracticeName): boolean {
  return (
    one.chartId === other.chartId &&
    one.plan === other.plan &&
    one.key === other.key &&
    one.level === other.level
  );
}
