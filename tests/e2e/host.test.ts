/** The browser host as a program: many tabs, a host that goes and comes back, a second start. */

import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { askHost } from './ask-host.ts';
import { chooseChart, withProgram } from './the-program.ts';

const openPage = withProgram();

/** Tells which tabs show a chart that one of them saves, each the first time it is there. */
async function showsEverywhere(pages: readonly Page[], title: string): Promise<void> {
  const [first] = pages;
  if (first === undefined) throw new Error('no page');
  await askHost(first, 'charts.save', { chartId: null, title, text: `title: ${title}` });
  for (const page of pages) await page.getByRole('button', { name: title, exact: true }).waitFor();
}

/** Opens a tab from a page: they share a process, which costs a small machine much less than one each. */
async function openTab(page: Page): Promise<Page> {
  const [tab] = await Promise.all([
    page.waitForEvent('popup'),
    page.evaluate(() => void window.open(location.href)),
  ]);
  return tab;
}

// A browser opens six connections for requests to one host, and a tab that listened used to keep one of them.
test('six tabs, then twenty, are answered and told of changes', { timeout: 90_000 }, async () => {
  const { page, context, seen } = await openPage();
  const tabs = [page];
  for (const [count, title] of [
    [6, 'Sixth Pier'],
    [20, 'Twentieth Pier'],
  ] as const) {
    while (tabs.length < count) tabs.push(await openTab(page));
    await showsEverywhere(tabs, title);
  }
  const last = tabs.at(-1) ?? page;
  await chooseChart(last, 'Lantern Walk');
  await last.getByRole('button', { name: 'Progress' }).click();
  await last.getByRole('heading', { name: 'Progress' }).waitFor();
  expect(seen).toEqual({ errors: [], foreign: [] });
  await context.close();
});
