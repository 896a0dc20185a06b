/** Sessions become decisions: what is sloppy is held and drilled, what is clean is raised, and today says so. */

import { expect, test } from 'vitest';
import { playScript, type ScriptedKey } from './fake-keyboard.ts';
import { chooseChart, stopTake, withProgram } from './the-program.ts';

const openPage = withProgram();

/** D dorian up and down: over Long Pier's first bars every note is in the palette and a step away. */
const UP_AND_DOWN = [62, 64, 65, 67, 69, 67, 65, 64];
const SLOT_MS = 1000;

/** A quarter for each slot; what is not clean is a key beside the palette. */
function line(slots: number, isWrong: (slot: number) => boolean): readonly ScriptedKey[] {
  return Array.from({ length: slots }, (_, slot) => {
    const midi = UP_AND_DOWN[slot % UP_AND_DOWN.length] ?? 62;
    return { midi: isWrong(slot) ? midi + 1 : midi, afterMs: slot * SLOT_MS, holdMs: 300 };
  });
}

test('three sloppy takes are held, the weak bars drilled; three clean ones are raised', async () => {
  const { page, context, seen } = await openPage();
  await page.getByRole('button', { name: 'Today' }).click();
  await page.getByText('Played today: 0 minutes.').waitFor();
  await page.getByRole('button', { name: 'Charts', exact: true }).click();
  await chooseChart(page, 'Long Pier');
  await page.getByLabel('Tempo', { exact: true }).fill('60');
  await page.getByLabel('Choruses').fill('1');
  await page.getByText('Grid and rules').click();
  const slots = page.locator('label.field', { hasText: /^Slots/ }).locator('select');
  await slots.selectOption({ label: '1 to the beat' });
  await page.getByLabel('Own tolerance').check();
  await page.getByLabel('Tolerance, ms').fill('400');
  const bars = await page.locator('.chart-page .bar, .page .bar').count();
  expect(bars).toBeGreaterThan(0);

  async function take(isWrong: (slot: number) => boolean): Promise<void> {
    await page.getByRole('button', { name: 'Play', exact: true }).click();
    await page.getByText('Listening to Stage piano').waitFor();
    await page.getByRole('button', { name: 'Start' }).click();
    await page.locator('.bar.current').waitFor();
    await playScript(page, line(16, isWrong));
    await stopTake(page);
    await page.getByRole('button', { name: '← Charts' }).click();
  }

  for (let sloppy = 0; sloppy < 3; sloppy++) await take((slot) => slot >= 8 && slot % 2 === 0);
  await page.getByRole('button', { name: 'Progress' }).click();
  const practice = page.getByRole('region', { name: 'Long Pier, steps' });
  await practice.getByText(/^(Hold|Ease) the tempo/).waitFor();
  await practice.getByText(/Bars? 3 and 4: /).waitFor();
  // A press on a cell of the picture leads to the take behind it.
  const heat = page.getByRole('region', { name: 'Where it breaks' });
  await heat.getByRole('button', { name: /^outside, 3: / }).click();
  await heat.getByRole('button', { name: 'take 1' }).click();
  await page.getByText('slots clean').first().waitFor();
  await page.getByRole('button', { name: 'Progress' }).click();
  await practice
    .getByRole('button', { name: /^Drill bars/ })
    .first()
    .click();
  await page.getByText(/steps at \d+, plan plain, in .*, bars 2 to 5/).waitFor();
  await page.getByRole('button', { name: '← Charts' }).click();

  for (let clean = 0; clean < 3; clean++) await take(() => false);
  await page.getByRole('button', { name: 'Progress' }).click();
  await practice.getByText(/more whole chorus|more slots|surely \d+ % or more/).waitFor();
  await page.getByRole('button', { name: 'Today' }).click();
  await page.locator('.session-item').first().waitFor();
  const first = await page.locator('.session-what').first().innerText();
  await page.getByRole('button', { name: 'Not today' }).first().click();
  await expect.poll(() => page.locator('.session-what').first().innerText()).not.toBe(first);
  expect(seen).toEqual({ errors: [], foreign: [] });
  await context.close();
}, 300_000);
