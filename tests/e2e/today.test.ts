/** Takes become decisions: what is sloppy is held and its bars drilled, what is clean is raised, and today says so. */

import { join } from 'node:path';
import { DatabaseSync } from 'node:sqlite';
import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { askHost } from './ask-host.ts';
import { playFromDownbeat, type ScriptedKey } from './fake-keyboard.ts';
import { type Program, startProgram } from './start-program.ts';
import { chooseChart, start, stopTake, withProgram } from './the-program.ts';

const openPage = withProgram();

const CHART =
  'title: Short Pier\nkey: Dm\nmeter: 4/4\ntempo: 160\n\n[A]\n| Dm7 <dorian> | % | % | % |\n';
/** D dorian up and down, a step at a time. */
const UP_AND_DOWN = [62, 64, 65, 67, 69, 67, 65, 64];
/** A note to the beat, at 160. */
const SLOT_MS = 375;
const CHORUS = 16;

/** What is not clean is a key beside the palette. */
function line(slots: number, isWrong: (slot: number) => boolean): readonly ScriptedKey[] {
  return Array.from({ length: slots }, (_, slot) => {
    const midi = UP_AND_DOWN[slot % UP_AND_DOWN.length] ?? 62;
    return { midi: isWrong(slot) ? midi + 1 : midi, afterMs: slot * SLOT_MS, holdMs: 200 };
  });
}

const isSloppyAt = (slot: number): boolean => slot >= 8 && slot % 2 === 0;

async function take(page: Page, choruses: number, isWrong: (slot: number) => boolean) {
  await page.getByLabel('Choruses', { exact: true }).fill(String(choruses));
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await start(page);
  await playFromDownbeat(page, line(choruses * CHORUS, isWrong));
  await stopTake(page);
  await page.getByRole('button', { name: '← Charts' }).click();
}

/** A note to the beat. */
async function chooseShortPier(page: Page): Promise<void> {
  await chooseChart(page, 'Short Pier');
  await page.getByText('Grid and rules').click();
  const slots = page.locator('label.field', { hasText: /^Slots/ }).locator('select');
  await slots.selectOption({ label: '1 to the beat' });
}

test('three sloppy takes are held and their bars drilled; three clean ones are raised; today knows', async () => {
  const { page, seen, done } = await openPage();
  await page.getByRole('button', { name: 'Today' }).click();
  await page.getByText('Played today: 0 minutes.').waitFor();
  await askHost(page, 'charts.save', { chartId: null, title: 'Short Pier', text: CHART });
  await page.getByRole('button', { name: 'Charts', exact: true }).click();
  await chooseShortPier(page);

  for (let sloppy = 0; sloppy < 3; sloppy++) {
    await take(page, 1, isSloppyAt);
  }
  await page.getByRole('button', { name: 'Progress' }).click();
  const practice = page.getByRole('region', { name: 'Short Pier, steps' });
  await practice.getByText(/^(Hold|Ease) the tempo/).waitFor();
  await practice.getByText(/^Bars 3 and 4: /).waitFor();
  // A press on a cell of the picture leads to the takes behind it.
  const heat = page.getByRole('region', { name: 'Where it breaks' });
  await heat.getByRole('button', { name: /^outside, 3: \d+ of 12/ }).click();
  await heat.getByRole('button', { name: 'take 1', exact: true }).click();
  await page.getByText('slots clean').first().waitFor();
  await page.getByRole('button', { name: 'Progress' }).click();
  await practice
    .getByRole('button', { name: /^Drill bars 2 to 4 at/ })
    .first()
    .click();
  await page.getByText(/steps · plain · Dm · bars 2–4 · \d+/).waitFor();
  await page.getByRole('button', { name: '← Charts' }).click();

  for (let clean = 0; clean < 3; clean++) await take(page, 2, () => false);
  await page.getByRole('button', { name: 'Progress' }).click();
  await practice.getByText(/^Raise the tempo to 166: /).waitFor();
  // In the plot its takes are one stop by keyboard, the newest; arrows lead to the others.
  const dots = practice.locator('.tempo-plot a');
  const isThere = (at: number) => dots.nth(at).evaluate((dot) => dot === document.activeElement);
  await expect.poll(() => dots.count()).toBe(6);
  await expect.poll(() => practice.locator('.tempo-plot [tabindex="0"]').count()).toBe(1);
  await practice.locator('.tempo-plot [tabindex="0"]').focus();
  await expect.poll(() => isThere(5)).toBe(true);
  await page.keyboard.press('ArrowLeft');
  await expect.poll(() => isThere(4)).toBe(true);
  await page.keyboard.press('Home');
  await expect.poll(() => isThere(0)).toBe(true);
  await page.keyboard.press('ArrowLeft');
  await expect.poll(() => isThere(0)).toBe(true);

  await page.getByRole('button', { name: 'Today' }).click();
  const first = page.locator('.proposed-what').first();
  await first.waitFor();
  const before = (await first.textContent()) ?? '';
  await page.getByRole('button', { name: 'Not today' }).first().click();
  await expect.poll(() => first.textContent()).not.toBe(before);
  const kept = page.getByRole('button', { name: 'Keep' }).first();
  await kept.click();
  await page.getByLabel('Minutes there are').fill('45');
  await expect.poll(() => kept.getAttribute('aria-pressed')).toBe('true');
  await page.getByRole('button', { name: 'Play', exact: true }).first().click();
  await page.getByRole('button', { name: 'Start' }).waitFor();
  expect(seen).toEqual({ errors: [], foreign: [] });
  done();
}, 240_000);

const DAY_MS = 86_400_000;

/** A night goes by: the program is stopped, and all that was played is a day older when it starts again. */
async function nextDay(program: Program): Promise<Program> {
  await program.stop();
  const library = new DatabaseSync(join(program.dataFolder, 'library.sqlite'));
  library.prepare('UPDATE takes SET started_at_ms = started_at_ms - ?').run(DAY_MS);
  library.close();
  return startProgram(program.dataFolder);
}

test('three sloppy sessions, then three clean ones, each on a day of its own: the tempo is held or eased, then raised', async () => {
  let program = await startProgram();
  const decided: string[] = [];
  for (const session of ['sloppy', 'sloppy', 'sloppy', 'clean', 'clean', 'clean'] as const) {
    if (decided.length > 0) program = await nextDay(program);
    const { page, context, seen } = await openPage(null, program);
    if (decided.length === 0) {
      await askHost(page, 'charts.save', { chartId: null, title: 'Short Pier', text: CHART });
      await page.getByRole('button', { name: 'Short Pier', exact: true }).waitFor();
    }
    await chooseShortPier(page);
    if (session === 'sloppy') await take(page, 1, isSloppyAt);
    else await take(page, 2, () => false);
    await page.getByRole('button', { name: 'Progress' }).click();
    const practice = page.getByRole('region', { name: 'Short Pier, steps' });
    const words = practice.getByText(/^(Hold|Ease|Raise) the tempo/);
    await words.waitFor();
    decided.push(/^\w+/.exec((await words.textContent()) ?? '')?.[0] ?? '');
    if (decided.length === 6) {
      await page.getByRole('button', { name: 'Journal' }).click();
      await page.getByRole('searchbox').fill('Short Pier');
      await page.getByText(/^6 sessions of all years found/).waitFor();
    }
    expect(seen).toEqual({ errors: [], foreign: [] });
    await context.close();
  }
  await program.stop();
  // Never raised while it is sloppy, and raised in the end.
  expect(decided.slice(0, 3)).not.toContain('Raise');
  expect(decided.at(-1)).toBe('Raise');
});
