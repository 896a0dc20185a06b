/**
 * Everything from an empty page to a reviewed take by keys alone: nothing is clicked, filled or focused by the test. At
 * each stop the focus must be on something, in sight, with its ring drawn. Source: WCAG 2.2, 2.1.1, 2.1.2, 2.4.7, 2.4.11.
 */

import type { Page } from 'playwright';
import { expect, test } from 'vitest';
import { holdTime, until } from './controlled-time.ts';
import { pressFor } from './fake-keyboard.ts';
import { stopTake, withProgram } from './the-program.ts';

const openPage = withProgram();

interface Focused {
  /** What a screen reader would say of it, roughly: its label, else its text. */
  readonly name: string;
  readonly isRinged: boolean;
  readonly isInSight: boolean;
}

/** What has the focus, into the shadow tree of the text editor; null for nothing. */
function focused(page: Page): Promise<Focused | null> {
  return page.evaluate(() => {
    let at = document.activeElement;
    while (at?.shadowRoot?.activeElement) at = at.shadowRoot.activeElement;
    if (at === null || at === document.body) return null;
    // The editor's ring is around all of it.
    const ringed = at.closest('.cm-editor') ?? at;
    const { outlineStyle, outlineWidth } = getComputedStyle(ringed);
    const { top, bottom, left, right } = ringed.getBoundingClientRect();
    return {
      name:
        at.getAttribute('aria-label') ?? at.closest('label')?.textContent ?? at.textContent ?? '',
      isRinged: outlineStyle !== 'none' && Number.parseFloat(outlineWidth) >= 2,
      isInSight: bottom > 0 && right > 0 && top < innerHeight && left < innerWidth && bottom > top,
    };
  });
}

/** Waits until something of this name has the focus, and for its ring. */
async function atFocus(page: Page, name: RegExp): Promise<void> {
  await expect
    .poll(() => focused(page), { timeout: 10_000 })
    .toMatchObject({ name: expect.stringMatching(name), isRinged: true, isInSight: true });
}

/** The most presses from anywhere on a screen to anything on it that a player would put up with here. Own choice. */
const MOST_PRESSES = 70;

/** Tabs on, or back, until something of this name has the focus; nothing on the way may be lost or unseen. */
async function tabTo(page: Page, name: RegExp, key = 'Tab'): Promise<void> {
  const passed: string[] = [];
  for (let presses = 0; presses < MOST_PRESSES; presses++) {
    await page.keyboard.press(key);
    const now = await focused(page);
    // From the last stop the browser goes round by way of its own window.
    if (now === null) continue;
    // The editor draws its ring a moment later.
    await expect
      .poll(() => focused(page), { message: `${now.name}, after ${passed.at(-1)}` })
      .toMatchObject({ isRinged: true, isInSight: true });
    if (name.test(now.name)) return;
    passed.push(now.name);
  }
  throw new Error(`no ${name} is reached by ${key}: ${passed.join(' / ')}`);
}

async function type(page: Page, bars: readonly string[]): Promise<void> {
  for (const bar of bars) {
    await page.keyboard.press('Control+a');
    await page.keyboard.type(bar);
    await page.keyboard.press('Enter');
  }
  await page.keyboard.press('Escape');
}

const bars = (page: Page) => page.locator('.edit-page .bar');

test('a chart is written, coloured, planned, moved, played and reviewed without a mouse', async () => {
  const { page, seen, done } = await openPage();
  const { keyboard } = page;

  await tabTo(page, /^Write a new chart$/);
  await keyboard.press('Enter');
  // On the page at once; the title stands in the text, one key away.
  await atFocus(page, /^Bar 1: C6/);
  await keyboard.press('F6');
  await atFocus(page, /^Chart text$/);
  await keyboard.press('Control+Home');
  await keyboard.press('End');
  for (const _ of 'New chart') await keyboard.press('Backspace');
  await keyboard.type('Back Room Keys');
  await page.getByRole('heading', { name: 'Back Room Keys' }).waitFor();
  await keyboard.press('F6');
  await atFocus(page, /^Bar 1: C6/);
  await keyboard.press('Enter');
  await atFocus(page, /^Chords of bar 1$/);
  await type(page, ['Dm7', 'G7', 'Cmaj7', 'A7']);
  await atFocus(page, /^Bar 5: /);

  // A bar more, which is where one stands then; and the last one out, where there is nothing to stay on.
  await keyboard.press('Insert');
  await atFocus(page, /^Bar 6: /);
  await expect.poll(() => bars(page).count()).toBe(9);
  await keyboard.press('End');
  await atFocus(page, /^Bar 9: /);
  await keyboard.press('Delete');
  await expect.poll(() => bars(page).count()).toBe(8);
  await atFocus(page, /^Bar 8: /);
  await keyboard.press('Home');

  // A palette for the chord: its button goes with the press, the panel says what was chosen.
  await atFocus(page, /^Bar 1: Dm7/);
  await tabTo(page, /^A palette chosen here is for/);
  await keyboard.press('Tab');
  const chosen = (await focused(page))?.name ?? '';
  expect(chosen).toMatch(/^D /);
  await keyboard.press('Enter');
  await page.getByText('Named in the chart.').waitFor();
  await atFocus(page, new RegExp(`in bar 1: ${chosen}$`));

  // A plan by a rule, and back again.
  await tabTo(page, /^Make a plan by a rule$/);
  await keyboard.press('Enter');
  await tabTo(page, /^Write it in /);
  await keyboard.press('Enter');
  await page.locator('.bar.changed').first().waitFor();
  expect((await focused(page))?.isRinged).toBe(true);
  await keyboard.press('Control+z');
  await expect.poll(() => page.locator('.bar.changed').count()).toBe(0);
  await expect.poll(() => bars(page).count()).toBe(8);
  expect((await focused(page))?.isRinged).toBe(true);

  // Another key.
  await tabTo(page, /^Transpose the chart to/, 'Shift+Tab');
  await keyboard.press('ArrowDown');
  await page.getByRole('button', { name: /^Bar 1: Ebm7/ }).waitFor();
  await atFocus(page, /^Transpose the chart to/);
  await page.getByText('Stored.').waitFor();
  await tabTo(page, /^← Charts$/, 'Shift+Tab');
  await keyboard.press('Enter');
  await atFocus(page, /^Back Room Keys$/);

  await tabTo(page, /^Play$/);
  await keyboard.press('Enter');
  await atFocus(page, /^Start$/);
  await holdTime(page);
  await keyboard.press('Enter');
  await until(page, page.locator('.stage-bar.current'));
  await atFocus(page, /^Stop/);
  for (const key of ['KeyZ', 'KeyX', 'KeyC']) await pressFor(page, key, 100);
  await until(page, page.locator('.totals', { hasText: /of \d+ clean/ }));
  await stopTake(page);
  await page.getByText('slots clean').first().waitFor();
  await atFocus(page, /^Back Room Keys$/);
  await tabTo(page, /^Save as MIDI$/);
  await tabTo(page, /← Charts/, 'Shift+Tab');
  await keyboard.press('Enter');
  await atFocus(page, /^Back Room Keys$/);
  expect(seen).toEqual({ errors: [], foreign: [] });
  done();
});

test('a key that comes between a reading and what follows its drawing moves the focus too', async () => {
  const { page } = await openPage();
  const { keyboard } = page;
  await tabTo(page, /^Write a new chart$/);
  await keyboard.press('Enter');
  await atFocus(page, /^Bar 1: C6/);
  // No finger comes at this moment on purpose: the bar typed before has just been read and drawn.
  await page.evaluate(() => {
    const label = (element: Element | null) => element?.getAttribute('aria-label') ?? '';
    const drawn = new MutationObserver(() => {
      const at = document.activeElement;
      if (!label(at).startsWith('Bar 2: ')) return;
      if (!label(document.querySelector('[data-bar="0"]')).includes('Dm7')) return;
      drawn.disconnect();
      at?.dispatchEvent(new KeyboardEvent('keydown', { key: 'Insert', bubbles: true }));
    });
    const edited = document.querySelector('.edit-page');
    if (edited !== null)
      drawn.observe(edited, { subtree: true, childList: true, attributes: true });
  });
  await keyboard.press('Enter');
  await keyboard.press('Control+a');
  await keyboard.type('Dm7');
  // As fast as fingers can: what was typed is still to be read when the bar is left.
  await Promise.all([keyboard.press('Enter'), keyboard.press('Escape')]);
  await expect.poll(() => bars(page).count()).toBe(9);
  await atFocus(page, /^Bar 3: /);
});

test('a long list of charts is one stop on the way, walked by arrows; deleting and undoing keep the place', async () => {
  const { page, done } = await openPage();
  const { keyboard } = page;
  await tabTo(page, /^Search charts$/);
  await keyboard.press('ArrowDown');
  await atFocus(page, /^(Back Room Keys|Bellhop on the Run)$/);
  await keyboard.press('End');
  const last = (await focused(page))?.name ?? '';
  await keyboard.press('ArrowUp');
  await keyboard.press('ArrowDown');
  expect((await focused(page))?.name).toBe(last);
  await keyboard.press('Enter');
  await page.getByRole('heading', { name: last }).waitFor();
  await keyboard.press('Tab');
  await atFocus(page, /^Write a new chart$/);
  await tabTo(page, /^Duplicate$/);
  await keyboard.press('Enter');
  await atFocus(page, new RegExp(`^${last}, copy$`));
  await tabTo(page, /^Delete this chart$/);
  await keyboard.press('Enter');
  await page.getByText(`“${last}, copy” is deleted.`).waitFor();
  expect((await focused(page))?.isRinged).toBe(true);
  await tabTo(page, /^Undo$/, 'Shift+Tab');
  await keyboard.press('Enter');
  await atFocus(page, new RegExp(`^${last}, copy$`));
  done();
});
