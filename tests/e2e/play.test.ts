/** Playing, with a fake keyboard on a fake port. */

import { join } from 'node:path';
import type { Page } from 'playwright';
import { describe, expect, test } from 'vitest';
import { playFromDownbeat, playScript, plug } from './fake-keyboard.ts';
import { startProgram } from './start-program.ts';
import {
  chooseChart,
  gradeAgain,
  root,
  SLOPPY,
  saved,
  savedReport,
  startTake,
  stopTake,
  verdicts,
  withProgram,
} from './the-program.ts';

const openPage = withProgram();

/** How many frames the page asks for within a time; one that draws all the time asks for 60 in a second. */
function framesAskedFor(page: Page, withinMs: number): Promise<number> {
  return page.evaluate(async (ms) => {
    const nextFrame = window.requestAnimationFrame.bind(window);
    let asked = 0;
    window.requestAnimationFrame = (callback) => {
      asked++;
      return nextFrame(callback);
    };
    await new Promise((resolve) => setTimeout(resolve, ms));
    window.requestAnimationFrame = nextFrame;
    return asked;
  }, withinMs);
}

describe('playing', () => {
  test('live totals are those of the stored report, and of the command on the saved file', async () => {
    const { page, context, seen } = await openPage();
    await startTake(page);
    await playFromDownbeat(
      page,
      SLOPPY.map((key) => ({ ...key, afterMs: key.afterMs + 500 })),
    );
    await page.waitForTimeout(600);
    const live = await page.locator('.totals').textContent();
    // A frame given away for nothing is one that the next key has to wait for.
    expect(await framesAskedFor(page, 1000)).toBeLessThan(20);
    await page.keyboard.press('Escape');
    await page.getByRole('heading', { name: 'Long Pier' }).waitFor();
    const figures = /(\d+) of (\d+) slots clean/;
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
    await context.close();
  });

  test('a keyboard unplugged in mid-take loses nothing, and plays on when it is back', async () => {
    const { page, context } = await openPage();
    await startTake(page);
    await playFromDownbeat(page, SLOPPY.slice(0, 4));
    await plug(page, false);
    await page.getByText('The keyboard is gone.').waitFor();
    await plug(page, true);
    await playScript(page, SLOPPY.slice(7));
    await page.keyboard.press('Escape');
    await page.getByRole('heading', { name: 'Long Pier' }).waitFor();
    const report = await savedReport(page, 'plug.json');
    const played = report.slots.flatMap(({ note }) => (note === null ? [] : [note.midi]));
    expect(played).toEqual([62, 64, 65, 67, 65, 64, 62]);
    await context.close();
  });

  test('a host killed in mid-take has what was played; the next start offers it', async () => {
    const doomed = await startProgram();
    const { page, context } = await openPage({}, doomed);
    await startTake(page);
    await playFromDownbeat(page, SLOPPY.slice(0, 6));
    await page.waitForTimeout(250);
    doomed.kill();
    await context.close();
    const next = await startProgram(doomed.dataFolder);
    const again = await openPage({}, next);
    await chooseChart(again.page, 'Long Pier');
    await again.page.getByRole('button', { name: /recovered/ }).click();
    await again.page.getByText('slots clean').first().waitFor();
    const report = await savedReport(again.page, 'rescued.json');
    const played = report.slots.flatMap(({ note }) => (note === null ? [] : [note.midi]));
    expect(played).toEqual(SLOPPY.slice(0, 6).map(({ midi }) => midi));
    await again.context.close();
    await next.stop();
  });

  test('a page blocked for 200 ms changes no verdict: the time of a key is the port’s own', async () => {
    const { page, context } = await openPage();
    await startTake(page);
    await page.evaluate(
      async ({ keys, blockMs }) => {
        const { keyboard } = window as unknown as { keyboard: { emit(bytes: number[]): void } };
        const now = performance.now.bind(performance);
        /** Delivers a key now with the time it was played at, as a port does after the page was blocked. */
        const deliver = (bytes: number[], playedMs: number): void => {
          performance.now = () => playedMs;
          keyboard.emit(bytes);
          performance.now = now;
        };
        while (document.querySelector('.bar.current') === null) {
          await new Promise(requestAnimationFrame);
        }
        const startMs = now() + 500;
        for (const { afterMs, midi } of keys) {
          const playedMs = startMs + afterMs;
          await new Promise((resolve) => setTimeout(resolve, playedMs - now() - 20));
          while (now() < playedMs + blockMs) {
            // The page is busy: the key waits in the browser's queue.
          }
          deliver([0x90, midi, 80], playedMs);
          deliver([0x80, midi, 0], playedMs + 150);
        }
      },
      { keys: SLOPPY.map(({ afterMs, midi }) => ({ afterMs, midi })), blockMs: 200 },
    );
    await page.waitForTimeout(500);
    const live = await page.locator('.totals').textContent();
    await stopTake(page);
    const report = await savedReport(page, 'blocked.json');
    const played = report.slots.flatMap(({ note }) => (note === null ? [] : [note]));
    expect(played.map(({ midi }) => midi)).toEqual(SLOPPY.map(({ midi }) => midi));
    const first = played[0]?.onsetMs ?? 0;
    const onsets = played.map(({ onsetMs }) => Math.round(onsetMs - first));
    expect(onsets).toEqual(SLOPPY.map(({ afterMs }) => afterMs));
    expect(live).toContain(`${report.summary.clean} of ${report.summary.slots} slots clean`);
    await context.close();
  });

  test('needs no mouse and no keyboard but the computer’s', async () => {
    const { page, context } = await openPage();
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
    await expect.poll(() => page.getByText('thirds at 66').count()).toBe(1);
    await page.keyboard.press('Enter');
    await page.locator('.bar.current').waitFor();
    for (const key of ['KeyX', 'KeyC', 'KeyV']) await page.keyboard.press(key, { delay: 100 });
    await expect.poll(() => page.locator('.totals').textContent()).toMatch(/of \d+ slots clean/);
    await page.keyboard.press('Escape');
    await page.getByRole('heading', { name: 'Five Buoys' }).waitFor();
    await context.close();
  });
});

// What is set is remembered, so each of these has a program of its own.
describe('what a player sets', () => {
  test('a key of the piano starts a take and stops it; a range of bars is what is graded', async () => {
    const own = await startProgram();
    const { page, context } = await openPage({}, own);
    await page.getByRole('button', { name: 'Settings' }).click();
    await page.getByText('Listening to Stage piano').waitFor();
    await page.getByRole('button', { name: 'Start from the piano' }).click();
    await playScript(page, [{ afterMs: 0, midi: 108, holdMs: 50 }]);
    await page.getByText('The key C8 starts and stops a take.').waitFor();
    await page.getByRole('button', { name: 'Charts', exact: true }).click();
    await chooseChart(page, 'Long Pier');
    await page.getByLabel('Tempo', { exact: true }).fill('120');
    await page.getByLabel('to bar').fill('4');
    await page.getByLabel('From bar').fill('3');
    await page.getByRole('button', { name: 'Play', exact: true }).click();
    await page.getByText('Listening to Stage piano').waitFor();
    await playScript(page, [{ afterMs: 0, midi: 108, holdMs: 50 }]);
    await page.locator('.bar.current').waitFor();
    await expect
      .poll(() => page.locator('.bar-number').allTextContents())
      .toEqual(['bar 3', 'bar 4']);
    await playScript(page, SLOPPY.slice(0, 4));
    await playScript(page, [{ afterMs: 300, midi: 108, holdMs: 50 }]);
    await page.getByRole('button', { name: 'Save as MIDI' }).waitFor();
    const report = await savedReport(page, 'range.json');
    expect(new Set(report.slots.map(({ bar }) => bar))).toEqual(new Set([3]));
    expect(report.slots.filter(({ note }) => note !== null)).toHaveLength(4);
    await context.close();
    await own.stop();
  });

  test('calibration finds a planted latency, and takes played after it are graded without it', async () => {
    const own = await startProgram();
    const { page, context } = await openPage({}, own);
    await page.getByRole('button', { name: 'Settings' }).click();
    await page
      .getByRole('region', { name: 'Stage piano' })
      .getByRole('button', { name: 'Calibrate' })
      .click();
    await page.getByText('Listening to Stage piano').waitFor();
    // The page's own clock tells where its clicks lie: the keys are played 70 ms after them.
    await page.evaluate(() => {
      const told = window as unknown as { zero: Promise<number> };
      const { start } = AudioBufferSourceNode.prototype;
      told.zero = new Promise((resolve) => {
        AudioBufferSourceNode.prototype.start = function (when = 0) {
          const { contextTime = 0, performanceTime = 0 } = (
            this.context as AudioContext
          ).getOutputTimestamp();
          setTimeout(() => {
            const later = (this.context as AudioContext).getOutputTimestamp();
            const isTold = (later.contextTime ?? 0) > 0;
            const contextMs = (isTold ? (later.contextTime ?? 0) : contextTime) * 1000;
            const performanceMs = isTold ? (later.performanceTime ?? 0) : performanceTime;
            resolve(performanceMs + when * 1000 - contextMs);
          }, 200);
          AudioBufferSourceNode.prototype.start = start;
          return start.call(this, when);
        };
      });
    });
    await page.getByRole('button', { name: 'Start the click' }).click();
    await page.evaluate(async () => {
      const { keyboard, zero } = window as unknown as {
        keyboard: { emit(bytes: number[]): void };
        zero: Promise<number>;
      };
      const firstClickMs = await zero;
      for (let beat = 0; beat < 16; beat++) {
        const atMs = firstClickMs + (beat + 4) * 750 + 70;
        setTimeout(() => keyboard.emit([0x90, 60, 80]), atMs - performance.now());
        setTimeout(() => keyboard.emit([0x80, 60, 0]), atMs + 60 - performance.now());
      }
    });
    const words = await page.getByText(/Your keys arrive/).textContent({ timeout: 30_000 });
    const [, foundMs] = /arrive ([\d.]+) ms after/.exec(words ?? '') ?? [];
    // Timers of the page are late by a few ms; the planted 70 ms must be what is found.
    expect(Number(foundMs)).toBeGreaterThan(60);
    expect(Number(foundMs)).toBeLessThan(95);
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
    const { page, context } = await openPage({}, own);
    await page.getByRole('button', { name: 'Settings' }).click();
    await page.getByText('Listening to Stage piano').waitFor();
    const device = page.getByRole('region', { name: 'Stage piano' });
    await device.getByRole('button', { name: 'Set the split by a key' }).click();
    await playScript(page, [{ afterMs: 0, midi: 60, holdMs: 50 }]);
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
    await one.page.getByRole('button', { name: 'Start' }).click();
    await one.page.locator('.bar.current').waitFor();
    await one.page.keyboard.press('KeyX', { delay: 80 });
    await one.page.waitForTimeout(500);
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
    const { page, context } = await openPage();
    await startTake(page);
    await playFromDownbeat(page, SLOPPY.slice(0, 5));
    await page.waitForTimeout(300);
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
    await context.close();
  });
});
