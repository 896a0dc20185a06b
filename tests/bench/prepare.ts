/** Preparing in real Chromium: typing in a chart of 500 bars, and a folder of 2 000 charts. */

import type { Browser, Page } from 'playwright';
import { buildWhenStale } from '../../scripts/build-when-stale.mjs';
import { ensureChromium } from '../../scripts/ensure-chromium.mjs';
import { openBrowser, startProgram } from '../e2e/start-program.ts';
import { type Bench, distribution, type Measure, ratio } from './bench.ts';

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
  const spread = distribution('keystroke to paint', 'ms', samples);
  return {
    name: `a keystroke in a chart of ${bars} bars, typed in the ${where}`,
    how: 'From the key’s own time until the frame after it is painted.',
    figures: [
      spread,
      ratio('p95 against a frame', 'ms', ['p95', spread.p95], ['a 60 Hz frame', FRAME_MS]),
    ],
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
  const spread = distribution('library opens', 'ms', samples);
  return {
    name: `a folder of ${CHARTS} charts`,
    how: 'Dropped on the page and imported; then the library is opened from another screen, until 300 charts are there.',
    figures: [
      spread,
      ratio('library opens', 'ms', ['median', spread.median], ['what feels immediate', 100], 1),
      ratio('import of a chart', 'ms', ['each', importMs / CHARTS], ['a 60 Hz frame', FRAME_MS]),
    ],
  };
}

export const prepareBench: Bench = {
  title: 'Prepare',
  about:
    'No keystroke should take more than a frame; the library should open within 100 ms after a folder was imported.',
  async run(effort) {
    if (effort === 'short') return [];
    buildWhenStale();
    ensureChromium();
    const browser = await openBrowser();
    const measures = [
      await keystrokes(browser, 'text', FEW_BARS),
      await keystrokes(browser, 'text', BARS),
      await keystrokes(browser, 'page', BARS),
      await folder(browser),
    ];
    await browser.close();
    return measures;
  },
};
