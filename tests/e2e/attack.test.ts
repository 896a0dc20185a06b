/**
 * Scripts planted in everything that is shown, and a whole session that asks no other machine for anything. What is
 * planted must be read as text: nothing runs, no dialog opens, no element of it is made.
 */

import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright';
import { describe, expect, test } from 'vitest';
import { HAND_OVER_SCHEMA } from '../../shared/hand-over.ts';
import { encodeSmf, smfFromTake } from '../../src/core/take/smf/index.ts';
import { until } from './controlled-time.ts';
import { drop } from './drop.ts';
import { pressFor } from './fake-keyboard.ts';
import {
  chooseChart,
  folder,
  pressStart,
  root,
  saved,
  startTake,
  stopTake,
  withProgram,
} from './the-program.ts';

const SOCKETS = join(folder, 'sockets');
const openPage = withProgram(SOCKETS);

/** One for each place, so that it is seen where it came from; each would set `planted` and open a dialog. */
function script(place: string): string {
  return `<img src=x onerror="planted='${place}';alert()"><script>planted='${place}';alert()</script>`;
}

/** A tag is cut at sixty letters. */
const TAG = '<img src=x onerror="planted=1">';

/** What a script would leave behind, wherever the page is. */
async function inert(page: Page, where: string): Promise<void> {
  const left = await page.evaluate(() => ({
    planted: Reflect.get(window, 'planted') ?? null,
    elements: document.querySelectorAll(
      'img[src="x"], [onerror], body script, iframe, object, embed',
    ).length,
    links: document.querySelectorAll('a[href^="javascript:" i]').length,
  }));
  expect([where, left]).toEqual([where, { planted: null, elements: 0, links: 0 }]);
}

/** The page with an ear for dialogs; a keyboard of a planted name is plugged in. */
async function openTrapped() {
  const opened = await openPage();
  const dialogs: string[] = [];
  opened.page.on('dialog', (dialog) => {
    dialogs.push(dialog.message());
    void dialog.dismiss();
  });
  await opened.page.evaluate((name) => {
    const { WMT } = window as unknown as {
      WMT: { MidiSrc: new (name: string) => { connect(): void } };
    };
    new WMT.MidiSrc(name).connect();
  }, script('keyboard'));
  return { ...opened, dialogs };
}

const CHART = `title: ${script('title')}
key: C
meter: 4/4
composer: ${script('composer')}
note: ${script('header')}

[${script('section')}]
| Cmaj7 | Dm7 | G7 | Cmaj7 |

plan: ${script('plan')}
| % | Dm7 <dorian> | % | % |
`;

/** Four quarter notes, in a track of a planted name and planted texts. */
const MIDI = Buffer.from(
  encodeSmf(
    smfFromTake({
      take: {
        events: [60, 62, 64, 65].flatMap((midi, index) => [
          { kind: 'noteOn' as const, atMs: index * 500, midi, velocity: 80 },
          { kind: 'noteOff' as const, atMs: index * 500 + 400, midi },
        ]),
        endMs: 3000,
        sources: [],
        breaks: [],
      },
      tempo: [{ atMs: 0, atQuarter: 0, msPerQuarter: 1000 }],
      meter: { count: 4, unit: 4 },
      keyFifths: 0,
      minor: false,
      name: script('track'),
      texts: [script('text')],
    }),
  ),
);

describe('scripts planted', () => {
  test('in charts, plans, tags, takes, remarks and names are shown as text on every screen', async () => {
    const { page, context, seen, dialogs } = await openTrapped();
    await drop(page, `${script('file').replaceAll('/', '_')}.chart`, Buffer.from(CHART));
    await page.getByRole('heading', { name: script('title') }).waitFor();
    await page.getByLabel('Tags, with commas between').fill(TAG);
    await page.getByLabel('Tags, with commas between').blur();
    await page.getByText(TAG).first().waitFor();
    const plan = page.locator('label.field', { hasText: /^Plan/ }).locator('select');
    await plan.selectOption({ label: script('plan') });
    await page.getByText(script('section')).first().waitFor();
    await inert(page, 'choose');

    await page.getByRole('button', { name: 'Practice sheet for printing' }).click();
    await page.locator('.line-staff svg').first().waitFor();
    await page.emulateMedia({ media: 'print' });
    await page.getByRole('heading', { name: script('title') }).waitFor();
    await inert(page, 'sheet on paper');
    await page.emulateMedia({ media: null });
    await page.getByRole('button', { name: '← Charts' }).click();

    await page.getByRole('button', { name: /^Edit chart/ }).click();
    await page.getByText('Notes of your own').waitFor({ state: 'attached' });
    await inert(page, 'edit');
    await page.getByRole('button', { name: '← Charts' }).click();

    await page.getByRole('button', { name: 'Play', exact: true }).click();
    await page.getByText(script('keyboard')).first().waitFor();
    await inert(page, 'play');
    await pressStart(page);
    await until(page, page.locator('.stage-bar.current'));
    await pressFor(page, 'KeyX', 80);
    await stopTake(page);
    await page.getByLabel('A remark to yourself').fill(script('remark'));
    await page.getByText('Saved.').waitFor();
    await inert(page, 'review');
    const table = readFileSync(await saved(page, 'Save slots as CSV', 'planted.csv'), 'utf8');
    expect(table.split('\r\n')[1]).toMatch(/^[^=+@<-]/u);

    await page.getByRole('button', { name: 'Charts', exact: true }).click();
    await drop(page, `${script('file').replaceAll('/', '_')}.mid`, MIDI);
    await page.getByLabel('Played on the chart').selectOption({ label: script('title') });
    await page.getByRole('button', { name: 'Grade this take' }).waitFor();
    await inert(page, 'open');
    await page.getByRole('button', { name: 'Grade this take' }).click();
    await page.getByLabel('A remark to yourself').waitFor();
    await inert(page, 'review of a file');

    await page.getByRole('button', { name: 'Progress' }).click();
    await page.getByText(script('title')).first().waitFor();
    await inert(page, 'progress');
    await page.getByRole('button', { name: 'Settings' }).click();
    await page.getByText(script('keyboard')).first().waitFor();
    await inert(page, 'settings');
    expect([dialogs, seen]).toEqual([[], { errors: [], foreign: [] }]);
    await context.close();
  });

  test('in files with faults, scores and hand-over files are shown as text where they are told of', async () => {
    const { page, context, seen, dialogs } = await openTrapped();
    const xml = (text: string) => text.replaceAll('<', '&lt;').replaceAll('"', '&quot;');
    const score = `<score-partwise><work><work-title>${xml(script('score'))}</work-title></work><part><measure number="1"><attributes><divisions>1</divisions></attributes><harmony><root><root-step>C</root-step></root><kind>major</kind></harmony><harmony><root><root-step>C</root-step></root><kind>${xml(script('kind'))}</kind></harmony></measure></part></score-partwise>`;
    await drop(page, `${script('file').replaceAll('/', '_')}.musicxml`, Buffer.from(score));
    await page.getByText(script('kind')).first().waitFor();
    await inert(page, 'notices of a score');
    await page.getByRole('button', { name: 'I have read this' }).click();

    const broken = CHART.replace('Dm7 |', `${script('chord').replaceAll(' ', '')} |`);
    await drop(page, 'broken.chart', Buffer.from(broken));
    await page.getByText('broken.chart was not imported').waitFor();
    await inert(page, 'problems of a chart');

    const handOver = {
      schema: HAND_OVER_SCHEMA,
      title: script('handed'),
      chart: CHART.replace(script('title'), script('handed')),
      assignment: {
        plan: script('plan'),
        key: null,
        level: 'steps',
        tempoBpm: null,
        goalBpm: null,
        bars: null,
        choruses: 2,
      },
      note: script('note'),
      take: null,
    };
    await drop(page, 'lesson.linekeeper', Buffer.from(JSON.stringify(handOver)));
    await page.getByText(script('note')).first().waitFor();
    await inert(page, 'a hand-over file');
    const later = { ...handOver, schema: script('schema') };
    await drop(page, 'later.linekeeper', Buffer.from(JSON.stringify(later)));
    await page.getByText('later.linekeeper was not opened').waitFor();
    await drop(page, `${script('file').replaceAll('/', '_')}.png`, Buffer.from([1]));
    await page.getByText('charts end in .changes').waitFor();
    await inert(page, 'refusals');
    expect([dialogs, seen]).toEqual([[], { errors: [], foreign: [] }]);
    await context.close();
  });

  test('are found where they would be made: the trap closes', async () => {
    const { page, context } = await openTrapped();
    await page.evaluate(
      (html) => document.body.insertAdjacentHTML('beforeend', html),
      script('trap'),
    );
    await expect(inert(page, 'trap')).rejects.toThrow();
    await context.close();
  });
});

/** Every request and every socket of every page of a context, by its address. */
function listenToRequests(context: BrowserContext): readonly string[] {
  const asked: string[] = [];
  const listenToSockets = (page: Page): void => {
    page.on('websocket', (socket) => asked.push(socket.url()));
  };
  context.on('request', (request) => asked.push(request.url()));
  context.on('page', listenToSockets);
  context.pages().forEach(listenToSockets);
  return asked;
}

describe('the network', () => {
  test('is asked for nothing in a whole session, by page or host', async () => {
    const { page, context, seen } = await openPage();
    const asked = listenToRequests(context);
    await page.reload();
    await startTake(page);
    await until(page, page.locator('.stage-bar.current'));
    await pressFor(page, 'KeyX', 100);
    await stopTake(page);
    await saved(page, 'Save as MIDI', 'session.mid');
    await saved(page, 'Save to hand over', 'session.linekeeper');
    await page.getByRole('button', { name: 'Progress' }).click();
    await page.getByRole('button', { name: 'Settings' }).click();
    await page.getByRole('button', { name: 'Calibrate' }).first().click();
    await page.getByRole('button', { name: 'Start the click' }).waitFor();
    await page.getByRole('button', { name: 'Charts', exact: true }).click();
    await page.getByText('An example line, written and heard').click();
    await page.locator('.line-staff svg').first().waitFor();
    await chooseChart(page, 'Lantern Walk');
    await page.getByRole('button', { name: /^Edit chart/ }).click();
    await page.locator('.edit-page [data-chord]').first().waitFor();
    await page.getByRole('button', { name: '← Charts' }).click();
    await page.keyboard.press('F1');
    await page.getByRole('dialog').waitFor();
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: 'late at seven' }).click();
    await page.getByText('slots clean').first().waitFor();

    expect(asked.length).toBeGreaterThan(20);
    const { host } = new URL(page.url());
    const foreign = asked.filter(
      (url) => !/^(?:data|blob):/u.test(url) && new URL(url).host !== host,
    );
    expect(asked.filter((url) => url.startsWith('ws:'))).toHaveLength(1);
    expect(foreign).toEqual([]);
    expect(seen).toEqual({ errors: [], foreign: [] });
    await context.close();

    // The host looked up the address that it listens on, and asked nobody.
    expect(existsSync(SOCKETS)).toBe(true);
    const connections = readFileSync(SOCKETS, 'utf8').trim().split('\n');
    expect(new Set(connections)).toEqual(new Set(['lookup 127.0.0.1']));
  });

  test('would be seen to be asked: by the page and by the host', async () => {
    const { page, context } = await openPage();
    const asked = listenToRequests(context);
    await context.route('http://elsewhere.example/**', (route) => route.abort());
    const away = await context.newPage();
    await away.goto('http://elsewhere.example/').catch(() => null);
    expect(asked).toContain('http://elsewhere.example/');
    expect(page.url()).not.toContain('elsewhere');
    await context.close();

    const file = join(folder, 'sockets-of-a-test');
    const asking =
      "require('node:net').connect(9, '192.0.2.1').on('error', () => {}); require('node:dns').lookup('elsewhere.invalid', () => {}); setTimeout(() => process.exit(), 300);";
    spawnSync(
      process.execPath,
      ['--import', join(root, 'tests', 'e2e', 'watch-sockets.mjs'), '-e', asking],
      { env: { ...process.env, WATCHED_SOCKETS: file } },
    );
    const told = readFileSync(file, 'utf8');
    expect(told).toContain('connect 192.0.2.1');
    expect(told).toContain('lookup elsewhere.invalid');
  });
});
