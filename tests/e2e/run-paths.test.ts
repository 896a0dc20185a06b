/**
 * Runs on the page, along the ways generated from their statechart. Whatever the way, in the end nothing sounds, no take is
 * open, and what was shown of a take is what is stored. Own rules; what a player means by Stop and by leaving.
 */

import type { Page } from 'playwright';
import { describe, expect, test } from 'vitest';
import { someOf } from '../helpers/runs.ts';
import { askHost } from './ask-host.ts';
import { holdTime, letTimeFlow } from './controlled-time.ts';
import { playScript } from './fake-keyboard.ts';
import { SIGNAL_MIDI, walk } from './run-driver.ts';
import { lastStepOf, type PageWay, pageWays, shortestWays, type Wish } from './run-ways.ts';
import { startProgram } from './start-program.ts';
import { chooseChart, withProgram } from './the-program.ts';

const openPage = withProgram();

/** All ways, by what is wished before Start. */
const ALL_WAYS = new Map<Wish, readonly PageWay[]>(
  (
    ['one take', 'keys in a cycle', 'an example before', 'an example nobody can write'] as const
  ).map((wished) => [wished, pageWays(wished)]),
);

/**
 * With `ALL_RUNS` all of them are gone. Else the fewest that take each step from each state, whatever was wished, and with
 * each wish a hundredth of the others: the same whenever the statechart is.
 */
const WAYS = new Map<Wish, readonly PageWay[]>();
const taken = new Set<string>();
for (const [wished, ways] of ALL_WAYS) {
  const shortest = shortestWays(ways, taken);
  for (const way of shortest) taken.add(lastStepOf(way));
  const others = ways.filter((way) => !shortest.includes(way));
  WAYS.set(wished, [...shortest, ...someOf(others, Math.ceil(ways.length / 100))]);
}

async function wish(page: Page, wished: Wish): Promise<void> {
  await chooseChart(page, 'Lantern Walk');
  await page.getByLabel('Tempo', { exact: true }).fill('300');
  await page.getByLabel('to bar').fill('1');
  await page.getByLabel('Choruses', { exact: true }).fill('1');
  const select = (field: RegExp) =>
    page.locator('label.field', { hasText: field }).locator('select');
  if (wished === 'keys in a cycle')
    await select(/^Keys/).selectOption({ label: 'go on in fourths' });
  if (wished.startsWith('an example')) {
    await select(/^Before each take/).selectOption({ label: 'hear a line, answer with your own' });
  }
  if (wished === 'an example nobody can write') {
    await page.getByText('An example line, written and heard').click();
    await page.getByLabel('Highest key, MIDI').fill('60');
  }
}

async function setSignal(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Settings' }).click();
  await page.getByText('Listening to Stage piano').waitFor();
  await page.getByRole('button', { name: 'Start from the piano' }).click();
  await playScript(page, [{ afterMs: 0, midi: SIGNAL_MIDI, holdMs: 50 }]);
  await letTimeFlow(page);
  await page.getByText('The key C8 starts and stops a take.').waitFor();
  await page.getByRole('button', { name: 'Charts', exact: true }).click();
}

test('the ways are many, and each step from each state is the last of one that is gone', () => {
  const all = [...ALL_WAYS.values()].flat();
  expect(all.length).toBeGreaterThanOrEqual(150);
  const lastSteps = (ways: readonly PageWay[]) => new Set(ways.map(lastStepOf));
  expect(lastSteps([...WAYS.values()].flat())).toEqual(lastSteps(all));
});

describe.each([...WAYS])('with %s', (wished, ways) => {
  test('every way ends in silence, with no take open, and what was shown is stored', {
    timeout: 900_000,
  }, async () => {
    const own = await startProgram();
    const { page, context, seen } = await openPage(null, own);
    await setSignal(page);
    await wish(page, wished);
    await holdTime(page);
    const shown: (string | null)[] = [];
    for (const way of ways) {
      const words = way.steps.join(' > ');
      await page.getByRole('button', { name: 'Play', exact: true }).click();
      const walked = await walk(page, way);
      expect([words, walked.rest === null, walked.sounding]).toEqual([words, false, 0]);
      expect([words, (await askHost(page, 'takes.open', {})).take]).toEqual([words, null]);
      shown.push(...walked.live);
    }
    const rows = await askHost(page, 'takes.list', { chartId: null, limit: 10_000 });
    expect(rows.filter(({ state }) => state !== 'finished')).toEqual([]);
    expect(rows).toHaveLength(shown.length);
    for (const [index, totals] of shown.entries()) {
      const figures = rows.at(-1 - index)?.figures;
      if (totals !== null) expect(totals).toContain(`${figures?.clean} of ${figures?.slots} clean`);
    }
    expect(seen.errors).toEqual([]);
    await context.close();
    await own.stop();
  });
});
