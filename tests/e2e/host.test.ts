/** The browser host as a program: many tabs, a host that goes and comes back, a second start. */

import { spawn } from 'node:child_process';
import { chmodSync, existsSync, mkdtempSync, readFileSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { askHost } from './ask-host.ts';
import { letTimeFlow, passTime } from './controlled-time.ts';
import { emitAt, playFromDownbeat, timeOf } from './fake-keyboard.ts';
import { startProgram } from './start-program.ts';
import { chooseChart, root, SLOPPY, startTake, withProgram } from './the-program.ts';

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
  const { page, seen, done } = await openPage();
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
  done();
});

test('Back and Forward go over the screens; Back out of a take ends it', async () => {
  const { page, seen, done } = await openPage();
  const heading = (name: string) => page.getByRole('heading', { name, exact: true }).waitFor();
  await page.getByRole('button', { name: 'Journal' }).click();
  await heading('Journal');
  await page.getByRole('button', { name: 'Settings' }).click();
  await heading('Settings');
  await page.goBack();
  await heading('Journal');
  await page.goForward();
  await heading('Settings');
  await page.getByRole('button', { name: 'Charts', exact: true }).click();

  await startTake(page);
  await playFromDownbeat(page, SLOPPY.slice(0, 6));
  await page.goBack();
  await passTime(page, 500);
  await letTimeFlow(page);
  await heading('Long Pier');
  const takes = () => askHost(page, 'takes.list', { chartId: null, limit: 5 });
  await expect.poll(async () => (await takes()).map(({ state }) => state)).toEqual(['finished']);
  // Forward leads to the run, ready and not started.
  await page.goForward();
  await page.getByRole('button', { name: 'Start', exact: true }).waitFor();
  await page.goBack();
  await heading('Long Pier');

  // A page loaded again does not know what it showed, and shows the charts.
  await page.reload();
  await page.goBack();
  await heading('Linekeeper');
  await page.getByRole('button', { name: 'Play', exact: true }).waitFor();
  expect(seen.errors).toEqual([]);
  done();
});

test('a page says that its host is gone, goes on when it is back, and hands in what was played meanwhile', {
  timeout: 60_000,
}, async () => {
  const doomed = await startProgram();
  const { page, context } = await openPage(null, doomed);
  await startTake(page);
  await playFromDownbeat(page, SLOPPY.slice(0, 5));
  const gone = page.getByText('The program has ended.');
  doomed.kill();
  await letTimeFlow(page);
  await gone.waitFor();
  await emitAt(page, await timeOf(page), [0x90, 96, 80]);
  const next = await startProgram(doomed.dataFolder);
  await gone.waitFor({ state: 'detached' });
  expect(new URL(next.url).origin).toBe(new URL(doomed.url).origin);
  await page.keyboard.press('Escape');
  await page.getByRole('button', { name: 'Save as MIDI' }).waitFor();
  const [row] = await askHost(page, 'takes.list', { chartId: null, limit: 1 });
  const { events } = await askHost(page, 'takes.get', { takeId: row?.takeId ?? '' });
  const played = events.flatMap((event) => (event.kind === 'noteOn' ? [event.midi] : []));
  expect(played).toEqual([...SLOPPY.slice(0, 5).map(({ midi }) => midi), 96]);
  // The screens are told of changes again.
  await page.getByRole('button', { name: 'Charts', exact: true }).click();
  await askHost(page, 'charts.save', {
    chartId: null,
    title: 'Late Pier',
    text: 'title: Late Pier',
  });
  await page.getByRole('button', { name: 'Late Pier', exact: true }).waitFor();
  await context.close();
  await next.stop();
});

/** Starts the program with an opener of ours; what it says, and whether it opened an address. */
async function startAgain(dataFolder: string) {
  const folder = mkdtempSync(join(tmpdir(), 'opener-'));
  const opened = join(folder, 'opened');
  writeFileSync(join(folder, 'xdg-open'), `#!/bin/sh\necho "$1" > ${opened}\n`);
  chmodSync(join(folder, 'xdg-open'), 0o755);
  const child = spawn(process.execPath, [join(root, 'scripts', 'start.mjs'), '--browser'], {
    env: { ...process.env, LINEKEEPER_DATA: dataFolder, PATH: folder },
  });
  let said = '';
  child.stdout.on('data', (data: Buffer) => {
    said += data.toString();
  });
  await new Promise<void>((resolve) => child.on('close', () => resolve()));
  return { said, isOpened: () => existsSync(opened) && readFileSync(opened, 'utf8') !== '' };
}

// The opener is found by this name on Linux alone.
test.runIf(process.platform === 'linux')(
  'a second start shows the page that is open, and opens one only where none is',
  async () => {
    const program = await startProgram();
    const none = await startAgain(program.dataFolder);
    expect(none.said).toContain('runs already');
    await expect.poll(none.isOpened).toBe(true);

    const { page, context } = await openPage(null, program);
    const again = await startAgain(program.dataFolder);
    expect(again.said).toMatch(/is open already.* http:\/\/127\.0\.0\.1:\d+\/open\?token=/);
    await page.getByText('Linekeeper is open here.').waitFor();
    expect(again.isOpened()).toBe(false);
    await context.close();
    // The page said goodbye: the next start opens one again.
    await expect
      .poll(async () => (await startAgain(program.dataFolder)).said)
      .toContain('runs already');
    await program.stop();
  },
);
