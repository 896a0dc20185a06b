/** Playing, with a fake keyboard on a fake port. */

import { join } from 'node:path';
import type { Page } from 'playwright';
import { describe, expect, test } from 'vitest';
import { percent } from '../../src/core/findings/index.ts';
import { holdTime, letTimeFlow, passTime, until } from './controlled-time.ts';
import {
  emitAt,
  playFrom,
  playFromDownbeat,
  playScript,
  plug,
  pressFor,
  timeOf,
} from './fake-keyboard.ts';
import { startProgram } from './start-program.ts';
import {
  chooseChart,
  gradeAgain,
  root,
  SLOPPY,
  saved,
  savedReport,
  start,
  startTake,
  stopTake,
  verdicts,
  withProgram,
} from './the-program.ts';

const openPage = withProgram();

/** How many frames the page asks for within a time; one that draws all the time asks for 60 in a second. */
async function framesAskedFor(page: Page, withinMs: number): Promise<number> {
  await page.evaluate(() => {
    const counted = window as unknown as { asked: number };
    const nextFrame = window.requestAnimationFrame;
    counted.asked = 0;
    window.requestAnimationFrame = (callback) => {
      counted.asked++;
      return nextFrame(callback);
    };
  });
  await passTime(page, withinMs);
  return page.evaluate(() => (window as unknown as { asked: number }).asked);
}

describe('playing', () => {
  test('live totals are those of the stored report, and of the command on the saved file', async () => {
    const { page, seen, done } = await openPage();
    await startTake(page);
    await playFromDownbeat(
      page,
      SLOPPY.map((key) => ({ ...key, afterMs: key.afterMs + 500 })),
    );
    await passTime(page, 600);
    const live = await page.locator('.totals').textContent();
    // A frame given away for nothing is one that the next key has to wait for.
    expect(await framesAskedFor(page, 1000)).toBeLessThan(20);
    await stopTake(page);
    const figures = /(\d+) of (\d+) (?:slots )?clean/;
    const reviewed = figures.exec(
      (await page.getByText('slots clean').first().textContent()) ?? '',
    );
    expect(figures.exec(live ?? '')?.slice(1)).toEqual(reviewed?.slice(1));
    const report = await savedReport(page, 'pier.json');
    expect(String(report.summary.clean)).toBe(reviewed?.[1]);
    // What was planted is there: one slot left out, one note late, one outside.
    const outside = report.slots.filter(({ faults }) => faults.includes('outside'));
    expect(outside.map(({ note }) => note?.midi)).toEqual([66]);
    const played = report.slots.flatMap(({ note }) => (note === null ? [] : [note.midi]));
    expect(played).toEqual(SLOPPY.map(({ midi }) => midi));
    const midi = await saved(page, 'Save as MIDI', 'pier.mid');
    const chart = join(root, 'shared', 'charts', 'long-pier.chart');
    expect(verdicts(gradeAgain(midi, chart, '--tempo', '120'))).toEqual(verdicts(report));
    expect(seen.foreign).toEqual([]);
    done();
  });

  test('a keyboard unplugged in mid-take loses nothing, and plays on when it is back', async () => {
    const { page, done } = await openPage();
    await startTake(page);
    const downbeatMs = await playFromDownbeat(page, SLOPPY.slice(0, 4));
    await plug(page, false);
    await until(page, page.getByText('The keyboard is gone.'));
    await plug(page, true);
    await passTime(page, 300);
    await playFrom(page, downbeatMs, SLOPPY.slice(7));
    await stopTake(page);
    const report = await savedReport(page, 'plug.json');
    const played = report.slots.flatMap(({ note }) => (note === null ? [] : [note.midi]));
    expect(played).toEqual([62, 64, 65, 67, 65, 64, 62]);
    done();
  });

  test('a host killed in mid-take has what was played; the next start finishes it', async () => {
    const doomed = await startProgram();
    const { page, context } = await openPage(null, doomed);
    await startTake(page);
    await playFromDownbeat(page, SLOPPY.slice(0, 6));
    await passTime(page, 250);
    doomed.kill();
    await context.close();
    const next = await startProgram(doomed.dataFolder);
    const again = await openPage(null, next);
    await chooseChart(again.page, 'Long Pier');
    await again.page
      .getByRole('button', { name: /steps at 120/ })
      .first()
      .click();
    await again.page.getByText('slots clean').first().waitFor();
    const report = await savedReport(again.page, 'rescued.json');
    const played = report.slots.flatMap(({ note }) => (note === null ? [] : [note.midi]));
    expect(played).toEqual(SLOPPY.slice(0, 6).map(({ midi }) => midi));
    await again.context.close();
    await next.stop();
  });

  test('a page blocked for 200 ms changes no verdict: the time of a key is the port’s own', async () => {
    const { page, done } = await openPage();
    await startTake(page);
    const downbeatMs = await playFromDownbeat(page, []);
    for (const { afterMs, midi } of SLOPPY) {
      const playedMs = downbeatMs + afterMs;
      await passTime(page, Math.floor(playedMs - 20 - (await timeOf(page))));
      // The page is busy: the key waits in the browser's queue, and what was due meanwhile is done once.
      await page.clock.fastForward(Math.max(0, Math.ceil(playedMs + 200 - (await timeOf(page)))));
      await emitAt(page, playedMs, [0x90, midi, 80]);
      await emitAt(page, playedMs + 150, [0x80, midi, 0]);
    }
    await passTime(page, 500);
    const live = await page.locator('.totals').textContent();
    await stopTake(page);
    const report = await savedReport(page, 'blocked.json');
    const played = report.slots.flatMap(({ note }) => (note === null ? [] : [note]));
    expect(played.map(({ midi }) => midi)).toEqual(SLOPPY.map(({ midi }) => midi));
    const first = played[0]?.onsetMs ?? 0;
    const onsets = played.map(({ onsetMs }) => Math.round(onsetMs - first));
    expect(onsets).toEqual(SLOPPY.map(({ afterMs }) => afterMs));
    expect(live).toContain(`${report.summary.clean} of ${report.summary.slots} clean`);
    done();
  });

  test('needs no mouse and no keyboard but the computer’s', async () => {
    const { page, done } = await openPage();
    /** Tabs on until something of this name has the focus, as a player would who listens or looks. */
    const tabTo = async (name: RegExp) => {
      for (let presses = 0; presses < 60; presses++) {
        await page.keyboard.press('Tab');
        const focused = await page.evaluate(() => {
          const at = document.activeElement;
          return at?.closest('label')?.textContent ?? at?.textContent ?? '';
        });
        if (name.test(focused)) return;
      }
      throw new Error(`no ${name} is reached by Tab`);
    };
    await page.getByLabel('Search charts').focus();
    await page.keyboard.type('five buoys');
    await tabTo(/^Five Buoys$/);
    await page.keyboard.press('Enter');
    await page.getByRole('heading', { name: 'Five Buoys' }).waitFor();
    await tabTo(/^Level/);
    await page.keyboard.press('ArrowDown');
    await tabTo(/^Play$/);
    await page.keyboard.press('Enter');
    const start = page.getByRole('button', { name: 'Start' });
    await expect
      .poll(() => start.evaluate((button) => button === document.activeElement))
      .toBe(true);
    await expect.poll(() => page.getByText(/^thirds · plain · .* · 66$/).count()).toBe(1);
    await holdTime(page);
    await page.keyboard.press('Enter');
    await until(page, page.locator('.stage-bar.current'));
    for (const key of ['KeyX', 'KeyC', 'KeyV']) await pressFor(page, key, 100);
    await until(page, page.locator('.totals', { hasText: /of \d+ clean/ }));
    await stopTake(page);
    await page.getByRole('heading', { name: 'Five Buoys' }).waitFor();
    done();
  });
});

// What is set is remembered, so each of these has a program of its own.
describe('what a player sets', () => {
  test('a key of the piano starts a take and stops it; a range of bars is what is graded', async () => {
    const own = await startProgram();
    const { page, context } = await openPage(null, own);
    await page.getByRole('button', { name: 'Settings' }).click();
    await page.getByText('Listening to Stage piano').waitFor();
    await page.getByRole('button', { name: 'Start from the piano' }).click();
    await playScript(page, [{ afterMs: 0, midi: 108, holdMs: 50 }]);
    await letTimeFlow(page);
    await page.getByText('The key C8 starts and stops a take.').waitFor();
    await page.getByRole('button', { name: 'Charts', exact: true }).click();
    await chooseChart(page, 'Long Pier');
    await page.getByLabel('Tempo', { exact: true }).fill('120');
    await page.getByLabel('to bar').fill('4');
    await page.getByLabel('From bar').fill('3');
    await page.getByRole('button', { name: 'Play', exact: true }).click();
    await page.getByText('Listening to Stage piano').waitFor();
    await playScript(page, [{ afterMs: 0, midi: 108, holdMs: 50 }]);
    await until(page, page.locator('.stage-bar.current'));
    await expect
      .poll(() => page.locator('.stage-bar.seen .stage-number > span').allTextContents())
      .toEqual(['bar 3', 'bar 4']);
    await playScript(page, SLOPPY.slice(0, 4));
    await playScript(page, [{ afterMs: 300, midi: 108, holdMs: 50 }]);
    await until(page, page.getByRole('button', { name: 'Save as MIDI' }));
    await letTimeFlow(page);
    const report = await savedReport(page, 'range.json');
    expect(new Set(report.slots.map(({ bar }) => bar))).toEqual(new Set([3]));
    expect(report.slots.filter(({ note }) => note !== null)).toHaveLength(4);
    await context.close();
    await own.stop();
  });

  test('calibration finds a planted latency, and takes played after it are graded without it', async () => {
    const own = await startProgram();
    const { page, context } = await openPage(null, own);
    await page.getByRole('button', { name: 'Settings' }).click();
    await page
      .getByRole('region', { name: 'Stage piano' })
      .getByRole('button', { name: 'Calibrate' })
      .click();
    await page.getByText('Listening to Stage piano').waitFor();
    await holdTime(page);
    await page.getByRole('button', { name: 'Start the click' }).click();
    const late = Array.from({ length: 16 }, (_, beat) => ({
      ...{ afterMs: beat * 750 + 70, midi: 60, holdMs: 60 },
    }));
    await playFromDownbeat(page, late);
    const found = page.getByText(/Your keys arrive/);
    await until(page, found);
    await letTimeFlow(page);
    const words = await found.textContent();
    const [, foundMs] = /arrive ([\d.]+) ms after/.exec(words ?? '') ?? [];
    expect(Number(foundMs)).toBe(70);
    await page.getByRole('button', { name: /^Keep/ }).click();
    await page.getByText(/^calibrated with this computer: .* spread/).waitFor();
    await page.getByRole('button', { name: 'Charts', exact: true }).click();
    await startTake(page);
    await playFromDownbeat(page, SLOPPY.slice(0, 3));
    await stopTake(page);
    expect((await savedReport(page, 'latency.json')).latencyMs).toBe(Number(foundMs));
    await context.close();
    await own.stop();
  });
});

describe('the left hand', () => {
  test('is checked against the bass when the player asks and a split is set', async () => {
    const own = await startProgram();
    const { page, context } = await openPage(null, own);
    await page.getByRole('button', { name: 'Settings' }).click();
    await page.getByText('Listening to Stage piano').waitFor();
    const device = page.getByRole('region', { name: 'Stage piano' });
    await device.getByRole('button', { name: 'Set the split by a key' }).click();
    await playScript(page, [{ afterMs: 0, midi: 60, holdMs: 50 }]);
    await letTimeFlow(page);
    await device.getByText('line from C4').waitFor();
    await page.getByRole('button', { name: 'Charts', exact: true }).click();
    await chooseChart(page, 'Long Pier');
    await page.getByText('Grid and rules').click();
    await page.getByLabel('Check the left hand').check();
    await startTake(page);
    await playFromDownbeat(page, SLOPPY.slice(0, 6));
    await stopTake(page);
    const report = await savedReport(page, 'left-hand.json');
    expect(report.splitMidi).toBe(60);
    expect(report.leftHand[0]).toMatchObject({ chorus: 1, bar: 1, verdict: 'missing' });
    await context.close();
    await own.stop();
  });
});

describe('windows', () => {
  test('a take played in one window is listed in the other; a page loaded again has its settings', async () => {
    const one = await openPage();
    const other = await openPage();
    await chooseChart(other.page, 'Night Stairs');
    await other.page.getByText('None yet.').waitFor();
    await chooseChart(one.page, 'Night Stairs');
    await one.page.getByLabel('Tempo', { exact: true }).fill('97');
    await one.page.getByRole('button', { name: 'Play', exact: true }).click();
    await start(one.page);
    await until(one.page, one.page.locator('.stage-bar.current'));
    await pressFor(one.page, 'KeyX', 80);
    await passTime(one.page, 500);
    await stopTake(one.page);
    await other.page.getByRole('button', { name: /steps at 97/ }).waitFor();
    await other.page.reload();
    await chooseChart(other.page, 'Night Stairs');
    await expect
      .poll(() => other.page.getByLabel('Tempo', { exact: true }).inputValue())
      .toBe('97');
    await one.context.close();
    await other.context.close();
  });

  test('a page loaded again in mid-take keeps what was played', async () => {
    const { page, done } = await openPage();
    await startTake(page);
    await playFromDownbeat(page, SLOPPY.slice(0, 5));
    await passTime(page, 300);
    await letTimeFlow(page);
    await page.reload();
    await chooseChart(page, 'Long Pier');
    await page
      .getByRole('button', { name: /steps at 120/ })
      .first()
      .click();
    const report = await savedReport(page, 'reloaded.json');
    expect(report.slots.flatMap(({ note }) => (note === null ? [] : [note.midi]))).toEqual(
      SLOPPY.slice(0, 5).map(({ midi }) => midi),
    );
    done();
  });

  test('a tab closed in mid-take: its take counts in the list, the journal and Progress', async () => {
    const own = await startProgram();
    const { page: closed, context: closedContext } = await openPage(null, own);
    const { page, context } = await openPage(null, own);
    await chooseChart(page, 'Long Pier');
    await page.getByText('None yet.').waitFor();
    await startTake(closed);
    await playFromDownbeat(closed, SLOPPY);
    await passTime(closed, 300);
    await closedContext.close();
    // Nobody loads this page again: it is told, as soon as the host has finished the take.
    await page.getByRole('button', { name: /steps at 120/ }).click();
    const { summary } = await savedReport(page, 'closed.json');
    expect(summary.slots).toBe(SLOPPY.length + 1);
    await page.getByRole('button', { name: 'Journal', exact: true }).click();
    await page
      .getByText(
        `at 120: ${percent(summary.clean / summary.slots)} of ${summary.slots} slots clean`,
      )
      .waitFor();
    await page.getByRole('button', { name: 'Progress' }).click();
    await page
      .getByRole('region', { name: 'Long Pier, steps' })
      .getByText(/Last played at 120/)
      .waitFor();
    await context.close();
    await own.stop();
  });
});
