/**
 * Runs on the page, along the ways generated from their statechart. Whatever the way, in the end nothing sounds, no take is
 * open, and what was shown of a take is what is stored. Own rules; what a player means by Stop and by leaving.
 */

import type { Page } from 'playwright';
import { describe, expect, test } from 'vitest';
import { runs } from '../helpers/runs.ts';
import { askHost } from './ask-host.ts';
import { holdTime, letTimeFlow } from './controlled-time.ts';
import { playScript } from './fake-keyboard.ts';
import { SIGNAL_MIDI, walk } from './run-driver.ts';
import { type PageWay, pageWays, someWays, type Wish } from './run-ways.ts';
import { startProgram } from './start-program.ts';
import { chooseChart, withProgram } from './the-program.ts';

const openPage = withProgram();

/** How many of the ways with a wish are gone without `ALL_RUNS`; a page takes a quarter of a second to a second for each. */
const SOME: Readonly<Record<Wish, number>> = {
  'one take': 36,
  'keys in a cycle': 68,
  'an example before': 40,
  'an example nobody can write': 12,
};

const waysWith = (wish: Wish): readonly PageWay[] => {
  const ways = pageWays(wish);
  return someWays(ways, runs(ways.length, SOME[wish]));
};
const WAYS: Readonly<Record<Wish, readonly PageWay[]>> = {
  'one take': waysWith('one take'),
  'keys in a cycle': waysWith('keys in a cycle'),
  'an example before': waysWith('an example before'),
  'an example nobody can write': waysWith('an example nobody can write'),
};
const WISHES = Object.keys(WAYS) as readonly Wish[];

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

test('the ways are many, and each step from each state is the last of one', () => {
  expect(WISHES.flatMap((wished) => WAYS[wished]).length).toBeGreaterThanOrEqual(150);
  const lastSteps = (ways: readonly PageWay[]) =>
    new Set(ways.map(({ steps, from }) => `${steps.at(-1)} from ${from}`));
  for (const wished of WISHES) expect(lastSteps(WAYS[wished])).toEqual(lastSteps(pageWays(wished)));
});

describe.each(WISHES)('with %s', (wished) => {
  test('every way ends in silence, with no take open, and what was shown is stored', {
    timeout: 900_000,
  }, async () => {
    const own = await startProgram();
    const { page, context, seen } = await openPage({}, own);
    await setSignal(page);
    await wish(page, wished);
    await holdTime(page);
    const shown: (string | null)[] = [];
    for (const way of WAYS[wished]) {
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
      if (totals !== null)
        expect(totals).toContain(`${figures?.clean} of ${figures?.slots} slots clean`);
    }
    expect(seen.errors).toEqual([]);
    await context.close();
    await own.stop();
  });
});
