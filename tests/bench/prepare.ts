/** Preparing in real Chromium: typing in a chart of 500 bars, and a folder of 2 000 charts. */

import type { Browser, Page } from 'playwright';
import { buildWhenStale } from '../../scripts/build-when-stale.mjs';
import { ensureChromium } from '../../scripts/ensure-chromium.mjs';
import { openBrowser, startProgram } from '../e2e/start-program.ts';
import { type Bench, distribution, type Measure, ratio } from './bench.ts';
import { traceMainThread } from './main-thread.ts';

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

/** Where one types: the end of the text, the value of its key, which names every palette anew, or bar by bar on the page. */
type Where = 'text' | 'key' | 'page';

const KEYS: Readonly<Record<Where, readonly string[]>> = {
  text: [...'Dm7 G7 '].map((letter) => (letter === ' ' ? 'Space' : letter)),
  key: ['Backspace', 'D', 'Backspace', 'E', 'b', 'Backspace', 'Backspace', 'C'],
  page: ['D', 'm', '7', 'Space', 'G', '7', 'Enter', 'E', 'b', '6', 'Enter'],
};

async function goTo(page: Page, where: Where): Promise<void> {
  if (where === 'page') {
    await page.locator('.edit-page [data-chord]').first().focus();
    await page.keyboard.press('Enter');
    return;
  }
  await page.getByLabel('Chart text').click();
  await page.keyboard.press(where === 'text' ? 'Control+End' : 'Control+Home');
  if (where === 'text') return;
  await page.keyboard.press('ArrowDown');
  await page.keyboard.press('End');
}

/** For each key, whether what it changes was changed before the first frame that began after it. */
async function watchFrames(page: Page): Promise<void> {
  await page.evaluate(() => {
    const inFirstFrame: boolean[] = [];
    Object.assign(window, { inFirstFrame });
    let isWaiting = false;
    const changed = (): void => {
      if (isWaiting) inFirstFrame.push(true);
      isWaiting = false;
    };
    window.addEventListener('input', changed, true);
    // The text stands in a tree of its own.
    const text = document.querySelector('.text-editor')?.firstElementChild?.shadowRoot;
    for (const tree of [document.body, text]) {
      const all = { subtree: true, childList: true, characterData: true };
      if (tree) new MutationObserver(changed).observe(tree, all);
    }
    window.addEventListener(
      'keydown',
      () => {
        isWaiting = true;
        requestAnimationFrame(() => {
          // What was changed in this very task is told by the observer before the frame.
          if (isWaiting) inFirstFrame.push(false);
          isWaiting = false;
        });
      },
      true,
    );
  });
}

/** A key is pressed again when the pause after which what was typed is read is over, and what that takes. */
const PAUSE_MS = 200;

async function keystrokes(browser: Browser, where: Where, bars: number): Promise<Measure> {
  const { program, page } = await opened(browser);
  await dropFiles(page, [{ name: 'long.chart', text: textOf(bars) }]);
  await page.getByRole('heading', { name: 'Many bars' }).waitFor();
  await page.getByRole('button', { name: /^Edit chart/ }).click();
  await page.locator('.edit-page [data-chord]').first().waitFor();
  await goTo(page, where);
  await watchFrames(page);
  const { tasks, keysMs } = await traceMainThread(page, async () => {
    for (let key = 0; key < KEYSTROKES; key++) {
      await page.keyboard.press(KEYS[where][key % KEYS[where].length] ?? 'C');
      await page.waitForTimeout(PAUSE_MS);
    }
  });
  const first = await page.evaluate(
    () => (window as unknown as { inFirstFrame: boolean[] }).inFirstFrame,
  );
  await page.close();
  await program.stop();
  const after = keysMs.map((keyMs, index) => {
    const nextMs = keysMs[index + 1] ?? Number.POSITIVE_INFINITY;
    // The task of a key begins a little before the key is told.
    const isOwn = ({ startMs }: { startMs: number }): boolean =>
      startMs >= keyMs - KEY_LEAD_MS && startMs < nextMs - KEY_LEAD_MS;
    return tasks.filter(isOwn).map(({ cpuMs }) => cpuMs);
  });
  const longest = distribution(
    'longest piece of work a keystroke causes',
    'ms',
    after.map((own) => Math.max(0, ...own)),
  );
  return {
    name: `a keystroke in a chart of ${bars} bars, typed ${WHERE_WORDS[where]}`,
    how: 'Processor time of the page’s main thread from a key to the next, read, checked, coloured and painted. A piece is what runs without a break: while it does, no frame is drawn.',
    figures: [
      longest,
      ratio(
        'the longest against a frame',
        'ms',
        ['longest of all', longest.largest],
        ['a 60 Hz frame', FRAME_MS],
        1,
      ),
      distribution(
        'work a keystroke causes, all pieces together',
        'ms',
        after.map((own) => own.reduce((sum, ms) => sum + ms, 0)),
      ),
      ratio(
        'seen in the first frame after the key',
        'keystrokes',
        ['in the first frame', first.filter(Boolean).length],
        ['all', first.length],
      ),
    ],
  };
}

const KEY_LEAD_MS = 2;

const WHERE_WORDS: Readonly<Record<Where, string>> = {
  text: 'at the end of the text',
  key: 'as its key, which colours every chord anew',
  page: 'bar by bar on the page',
};

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
    'No keystroke should keep the page from a frame; the library should open within 100 ms after a folder was imported.',
  async run(effort) {
    if (effort === 'short') return [];
    buildWhenStale();
    ensureChromium();
    const browser = await openBrowser();
    const measures = [
      await keystrokes(browser, 'text', FEW_BARS),
      await keystrokes(browser, 'text', BARS),
      await keystrokes(browser, 'key', BARS),
      await keystrokes(browser, 'page', BARS),
      await folder(browser),
    ];
    await browser.close();
    return measures;
  },
};
