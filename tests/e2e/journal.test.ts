/** What was played appears by its day, keeps a remark, leads to its review, and goes out as tables and as a page. */

import { readFileSync } from 'node:fs';
import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { makeLibrary } from '../bench/ten-years.ts';
import { newFolder } from '../helpers/library.ts';
import { startProgram } from './start-program.ts';
import { saved, withProgram } from './the-program.ts';

const openPage = withProgram();

async function openDemo(page: Page, demo: string): Promise<void> {
  await page.getByRole('button', { name: 'Charts', exact: true }).click();
  await page.getByRole('button', { name: demo }).click();
  await page.getByText('slots clean').first().waitFor();
}

const openJournal = (page: Page) =>
  page.getByRole('button', { name: 'Journal', exact: true }).click();

test('is empty with a word on how to begin; then two takes are one session of today, with a remark that is kept', async () => {
  const { page, seen, done } = await openPage();
  await openJournal(page);
  await page.getByText('Nothing to tell yet').waitFor();
  await openDemo(page, 'first evening');
  await openDemo(page, 'late at seven');
  await openJournal(page);
  const day = page.locator('.month [aria-current="date"]');
  await expect.poll(() => day.getAttribute('aria-label')).toMatch(/: \d+ minutes in 1 session$/);
  const session = page.locator('.session');
  await session.getByText(/2 takes, .+ minutes played/).waitFor();
  await session.getByText(/steps in B♭ at 66: 100 % of 128 slots clean/).waitFor();
  await expect.poll(() => session.count()).toBe(1);

  // Left before the rest in the typing after which it is stored.
  await session.getByLabel('A remark on this session').fill('Cold hands, warm lamp');
  await openDemo(page, 'first evening');
  await page.reload();
  await openJournal(page);
  const remark = page.locator('.session').getByLabel('A remark on this session');
  await expect.poll(() => remark.inputValue()).toBe('Cold hands, warm lamp');
  await remark.fill('Warm lamp');
  await page.getByText('Saved.').waitFor();

  await page.getByLabel('Search titles, remarks, keys, levels').fill('LAMP bb');
  await page.getByText('1 session of all years found.').waitFor();
  const search = page.getByLabel('Search titles, remarks, keys, levels');
  await search.fill('snow');
  await page.getByText('0 sessions of all years found.').waitFor();
  await search.fill('');

  await page.getByText('Takes of this session').click();
  await page
    .getByRole('button', { name: /Lantern Walk, steps at 66 in B♭, 128 of 128 clean/ })
    .first()
    .click();
  await page.getByRole('heading', { name: 'Lantern Walk' }).waitFor();
  expect(seen).toEqual({ errors: [], foreign: [] });
  done();
});

test('goes through days and months by keys, and chooses a day', async () => {
  const { page, done } = await openPage();
  await openJournal(page);
  const today = page.locator('.month [aria-current="date"]');
  const dayOf = async () =>
    Number(await page.locator('.month [data-day]:focus').getAttribute('data-day'));
  await today.focus();
  const start = await dayOf();
  await page.keyboard.press('Enter');
  await page.getByRole('button', { name: 'Show the whole month' }).waitFor();
  await expect.poll(() => page.locator('.session').count()).toBe(1);
  await page.keyboard.press('ArrowLeft');
  await expect.poll(() => dayOf()).toBe(start - 1);
  await page.keyboard.press('ArrowDown');
  await expect.poll(() => dayOf()).toBe(start + 6);
  await page.keyboard.press('PageUp');
  await page.keyboard.press('PageUp');
  expect(start - (await dayOf())).toBeGreaterThan(50);
  // Wherever in its month today is, this is a month before it: empty, and says so.
  await page.getByText('Nothing was played in this month.').waitFor();
  await page.keyboard.press('PageDown');
  await expect.poll(() => page.locator('.month [tabindex="0"]').count()).toBe(1);
  await page.getByRole('main').getByRole('button', { name: 'Today' }).click();
  await page.locator('.session').waitFor();
  done();
});

test('goes out as tables, and as a page for a teacher with remarks only when wished', async () => {
  const { page, done } = await openPage();
  await openJournal(page);
  const sessions = readFileSync(
    await saved(page, 'Save these sessions as CSV', 'sessions.csv'),
    'utf8',
  ).split('\r\n');
  expect(sessions[0]).toMatch(/^date,start,end,minutes,takes,charts/);
  expect(sessions).toHaveLength(3);
  expect(sessions[1]).toMatch(/,3,.*Lantern Walk.*,Warm lamp$/);
  const takes = readFileSync(await saved(page, 'Save their takes as CSV', 'takes.csv'), 'utf8');
  expect(takes.match(/,Lantern Walk,plain,Bb,steps,66,,,/g)).toHaveLength(2);

  await page.getByRole('button', { name: 'Report for a teacher' }).click();
  await page.getByText(/Played on 1 of 28 days, in 1 session, \d+ minutes in all/).waitFor();
  await page.getByText(/^steps in B♭: Played at 66: .* Holds at 66; the goal is /).waitFor();
  await expect.poll(() => page.getByText('Warm lamp').count()).toBe(0);
  await page.getByLabel('With my remarks').check();
  await page.getByText('Warm lamp').waitFor();
  await page.getByLabel('From').fill('2031-01-01');
  await page.getByText('The span ends before it begins').waitFor();
  await page.getByLabel('From').fill('2020-01-01');
  await page.getByLabel('To, and with it').fill('2020-01-31');
  await page.getByText('Nothing was played in these days.').waitFor();
  await page.emulateMedia({ media: 'print' });
  await expect
    .poll(() => page.getByRole('button', { name: 'Print, or save as PDF' }).isVisible())
    .toBe(false);
  done();
});

test('a month of much practice shows its newest sessions first, and more when asked', async () => {
  const folder = newFolder();
  // Each take is a session of its own, eleven a day, over two months.
  makeLibrary(folder, 700, Date.now());
  const diligent = await startProgram(folder);
  const { page, context } = await openPage(null, diligent);
  await openJournal(page);
  await page.getByRole('button', { name: '← Month before' }).click();
  const shown = page.locator('.session');
  await expect.poll(() => shown.count()).toBe(10);
  const newest = await shown.first().textContent();
  await page.getByRole('button', { name: 'Show 100 sessions' }).click();
  await expect.poll(() => shown.count()).toBe(100);
  expect(await shown.first().textContent()).toBe(newest);
  await page.getByText(/^\d+ more, older: search with another word/).waitFor();
  await page.getByRole('button', { name: 'Show the newest 10 alone' }).click();
  await expect.poll(() => shown.count()).toBe(10);
  await context.close();
  await diligent.stop();
});
