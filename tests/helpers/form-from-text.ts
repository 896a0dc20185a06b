/** The plain form of a few bars of chart text in C, for tests of what is played over it. */

import { type Form, parseChart, unrollForm } from '../../src/core/chart/index.ts';

/** Throws for bars that cannot be read: a test's own mistake. */
export function formFromText(bars: string, meter = '4/4'): Form {
  const chart = parseChart(`title: T\nkey: C\nmeter: ${meter}\n\n[A]\n${bars}\n`);
  const form = chart.ok ? unrollForm(chart.value, 'plain') : chart;
  if (!form.ok) throw new Error(JSON.stringify(form.problems));
  return form.value;
}
