/** Preparing in real Chromium: typing in a chart of 500 bars, a folder of 2 000 charts; and what a line costs to write. */

import type { Browser, Page } from 'playwright';
import { buildWhenStale } from '../../scripts/build-when-stale.mjs';
import { ensureChromium } from '../../scripts/ensure-chromium.mjs';
import { parseChart, unrollForm } from '../../src/core/chart/index.ts';
import { writeLine } from '../../src/core/line/index.ts';
import { openBrowser, startProgram } from '../e2e/start-program.ts';
import { type Bench, type Measure, medianMs, percentile, timeRuns } from './bench.ts';

const FRAME_MS = 1000 / 60;
const BARS = 500;
/** Beside it, so that what the browser itself takes is seen. */
const FEW_BARS = 8;
const CHARTS = 2000;
const KEYSTROKES = 60;

function textOf(bars: number): string {
  const row = '| Dm7 G7 | Cmaj7 | A7 | Em7b5 A7b9 |\n';
  return `title: Many bars\nkey: C\nmeter: 4/4\n\n[A]\n${row.repeat(bars / 4)}`;
}

async function dropFiles(
  page: Page,
  files: readonly { name: string; text: string }[],
): Promise<void> {
  const transfer = await page.evaluateHandle((all) => {
    const data = new DataTransfer();
    for (const { name, text } of all) data.items.add(new File([text], name));
    return data;
  }, files);
  await page.dispatchEvent('body', 'drop', { dataTransfer: transfer });
}

/** The program on a folder of its own, its first screen there. */
async function opened(browser: Browser) {
  const program = await startProgram();
  const page = await browser.newPage({ viewport: { width: 1440, height: 1000 } });
  await page.goto(program.url);
  await page.getByRole('heading', { name: 'Linekeeper' }).waitFor();
  return { program, page };
}

/** From a key's own time until the frame after it is painted. */
async function keystrokes(
  browser: Browser,
  where: 'text' | 'page',
  bars: number,
): Promise<Measure> {
  const { program, page } = await opened(browser);
  await dropFiles(page, [{ name: 'long.chart', text: textOf(bars) }]);
  await page.getByRole('heading', { name: 'Many bars' }).waitFor();
  await page.getByRole('button', { name: /^Edit chart/ }).click();
  await page.locator('.edit-page [data-chord]').first().waitFor();
  if (where === 'text') {
    await page.getByLabel('Chart text').click();
    await page.keyboard.press('Control+End');
  } else {
    await page.locator('.edit-page [data-chord]').first().focus();
    await page.keyboard.press('Enter');
  }
  await page.evaluate(() => {
    const samples: number[] = [];
    Object.assign(window, { samples });
    const { port1, port2 } = new MessageChannel();
    const waiting: number[] = [];
    port1.onmessage = () => {
      const paintedMs = performance.now();
      for (const atMs of waiting.splice(0)) samples.push(paintedMs - atMs);
    };
    window.addEventListener(
      'keydown',
      (event) => {
        requestAnimationFrame(() => {
          waiting.push(event.timeStamp);
          port2.postMessage(null);
        });
      },
      true,
    );
  });
  const letters = 'Dm7 G7 ';
  for (let key = 0; key < KEYSTROKES; key++) {
    await page.keyboard.type(letters[key % letters.length] ?? ' ');
    await page.waitForTimeout(60);
  }
  const samples = await page.evaluate(() => (window as unknown as { samples: number[] }).samples);
  await page.close();
  await program.stop();
  const p95 = percentile(samples, 0.95);
  return {
    name: `a keystroke in a chart of ${bars} bars until it is painted, typed in the ${where}`,
    unit: 'ms; share of a 60 Hz frame',
    values: { median: medianMs(samples), p95, 'p95 / frame': p95 / FRAME_MS },
  };
}

async function folder(browser: Browser): Promise<Measure> {
  const { program, page } = await opened(browser);
  const files = Array.from({ length: CHARTS }, (_, index) => ({
    name: `tune-${index}.chart`,
    text: `title: Tune ${index}\nkey: C\nmeter: 4/4\n\n[A]\n${'| Dm7 | G7 | Cmaj7 | A7 |\n'.repeat(8)}`,
  }));
  const startMs = performance.now();
  await dropFiles(page, files);
  await page.getByText(`${CHARTS} charts imported`).waitFor({ timeout: 300_000 });
  const importMs = performance.now() - startMs;
  const samples: number[] = [];
  for (let round = 0; round < 5; round++) {
    await page.getByRole('button', { name: 'Settings' }).click();
    await page.getByRole('heading', { name: 'Settings' }).first().waitFor();
    const ms = await page.evaluate(async () => {
      const charts = [...document.querySelectorAll('button')].find(
        ({ textContent }) => textContent === 'Charts',
      );
      const clickedMs = performance.now();
      charts?.click();
      while (document.querySelectorAll('.chart-choice').length < 300) {
        await new Promise((resolve) => requestAnimationFrame(resolve));
      }
      return performance.now() - clickedMs;
    });
    samples.push(ms);
  }
  await page.close();
  await program.stop();
  return {
    name: `a folder of ${CHARTS} charts`,
    unit: 'ms',
    values: { imported: importMs, 'library opens, median': medianMs(samples) },
  };
}

function lineCost(): Measure {
  const parsed = parseChart(
    `title: a\nkey: C\nmeter: 4/4\n\n[A]\n${'| Dm7 | G7 | Cmaj7 | Em7b5 A7b9 |\n'.repeat(8)}`,
  );
  const form = parsed.ok ? unrollForm(parsed.value, 'plain') : null;
  const values: Record<string, number> = {};
  for (const level of ['steps', 'thirds', 'leaps'] as const) {
    let seed = 0;
    const samples = timeRuns(20, () => {
      if (form?.ok !== true) return;
      writeLine(form.value, {
        ...{ level, choruses: 1, slotsPerBeat: null, swing: 1, density: 0.5, startMidi: null },
        register: { lowestMidi: 60, highestMidi: 84 },
        seed: seed++,
      });
    });
    values[level] = medianMs(samples);
  }
  return { name: 'a line of 32 bars written, median', unit: 'ms', values };
}

export const prepareBench: Bench = {
  title: 'Prepare',
  about:
    'No keystroke should take more than a frame; the library should open within 100 ms after a folder was imported.',
  async run() {
    buildWhenStale();
    ensureChromium();
    const browser = await openBrowser();
    const measures = [
      await keystrokes(browser, 'text', FEW_BARS),
      await keystrokes(browser, 'text', BARS),
      await keystrokes(browser, 'page', BARS),
      await folder(browser),
      lineCost(),
    ];
    await browser.close();
    return measures;
  },
};
