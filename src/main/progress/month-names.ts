/** Names of practices as numbers: in ten years each stands in hundreds of months, and is asked for in few. */

import { z } from 'zod';
import type { PracticeName } from '../../core/progress/index.ts';
import type { Level } from '../../core/words.ts';

/** What names are made of: so many charts, plans, keys and levels; a name is the number of its place among all. */
export const namePartsSchema = z.object({
  charts: z.custom<readonly (readonly [chartId: string, chartTitle: string])[]>(Array.isArray),
  plans: z.custom<readonly string[]>(Array.isArray),
  keys: z.custom<readonly string[]>(Array.isArray),
  levels: z.custom<readonly Level[]>(Array.isArray),
});
export type NameParts = z.infer<typeof namePartsSchema>;

/** What a take is named by. */
export interface MonthName extends PracticeName {
  readonly chartTitle: string;
}

/** The names of things, each as the number of its place among all that could be made of the parts. */
export function numberNames(named: readonly MonthName[]) {
  const [charts, plans] = [numbered<NameParts['charts'][number]>(), numbered<string>()];
  const [keys, levels] = [numbered<string>(), numbered<Level>()];
  const places = named.map(
    ({ chartId, chartTitle, plan, key, level }) =>
      [
        charts.numberOf([chartId, chartTitle]),
        plans.numberOf(plan),
        keys.numberOf(key),
        levels.numberOf(level),
      ] as const,
  );
  const parts: NameParts = {
    charts: charts.things,
    plans: plans.things,
    keys: keys.things,
    levels: levels.things,
  };
  const numbers = places.map(
    ([chart, plan, key, level]) =>
      ((chart * plans.things.length + plan) * keys.things.length + key) * levels.things.length +
      level,
  );
  return { parts, numbers };
}

/** Things numbered from 0 on, each once. */
function numbered<Thing>() {
  const numbers = new Map<string, number>();
  const things: Thing[] = [];
  return {
    numberOf(thing: Thing): number {
      const text = JSON.stringify(thing);
      const known = numbers.get(text);
      if (known !== undefined) return known;
      numbers.set(text, things.length);
      return things.push(thing) - 1;
    },
    things,
  };
}

/** The inverse of `numberNames`. */
export function nameAt({ charts, plans, keys, levels }: NameParts, number: number): MonthName {
  const byKey = Math.floor(number / levels.length);
  const byPlan = Math.floor(byKey / keys.length);
  const chart = charts[Math.floor(byPlan / plans.length)];
  const plan = plans[byPlan % plans.length];
  const key = keys[byKey % keys.length];
  const level = levels[number % levels.length];
  if (chart === undefined || plan === undefined || key === undefined || level === undefined) {
    throw new Error('a take of no practice');
  }
  const [chartId, chartTitle] = chart;
  return { chartId, chartTitle, plan, key, level };
}
