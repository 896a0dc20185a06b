/** Every screen for every player: read by axe, enlarged, in the system's colours, without motion, by key and by ear. */

import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright';
import { describe, expect, test } from 'vitest';
import { until } from './controlled-time.ts';
import { playScript } from './fake-keyboard.ts';
import { chooseChart, SLOPPY, startTake, stopTake, withProgram } from './the-program.ts';
import { visitScreens } from './visit-screens.ts';

const openPage = withProgram();

/**
 * What a window must not do to a screen, however small it is. Points of a plot may be smaller than a target: each take stands
 * in the journal as well. Sources: WCAG 2.2, 1.4.10 (reflow) and 2.5.8 (target size).
 */
function whatIsCut(page: Page): Promise<readonly string[]> {
  return page.evaluate(() => {
    const { scrollWidth, clientWidth } = document.documentElement;
    const found = scrollWidth > clientWidth ? [`the page is ${scrollWidth} wide`] : [];
    const targets = 'button, select, textarea, summary, input:not([type=checkbox])';
    for (const element of document.querySelectorAll<HTMLElement>(targets)) {
      if (!element.checkVisibility()) continue;
      const { width, height } = element.getBoundingClientRect();
      if (width < 24 || height < 24) found.push(`small: ${element.outerHTML.slice(0, 100)}`);
    }
    for (const element of document.querySelectorAll<HTMLElement>('body *:not(.hidden-words)')) {
      const hides = /hidden|clip/.test(getComputedStyle(element).overflowX);
      if (!hides || (element.textContent ?? '').trim() === '' || !element.checkVisibility())
        continue;
      if (element.scrollWidth > element.clientWidth + 1)
        found.push(`cut: ${element.outerHTML.slice(0, 100)}`);
    }
    return found;
  });
}

/** What of a screen could not be told from the rest, or from its ground, in the colours of the system. */
function whatIsLost(page: Page): Promise<readonly string[]> {
  return page.evaluate(() => {
    const systemColour = (name: string): string => {
      const probe = document.createElement('i');
      probe.style.color = name;
      document.body.append(probe);
      const { color } = getComputedStyle(probe);
      probe.remove();
      return color;
    };
    const found: string[] = [];
    const [ground, ink, marked, onMarked] = [
      'Canvas',
      'CanvasText',
      'Highlight',
      'HighlightText',
    ].map(systemColour);
    // Left to itself, the browser lays a plate of the ground behind words: it has to be told that these have their own.
    const on =
      'button.main:enabled, button[aria-pressed=true]:not(.key), button[aria-current=page], button[aria-current=true]';
    for (const element of document.querySelectorAll(on)) {
      const { color, backgroundColor, forcedColorAdjust } = getComputedStyle(element);
      if (backgroundColor !== marked || color !== onMarked || forcedColorAdjust !== 'none')
        found.push(`looks like the others: ${element.outerHTML.slice(0, 100)}`);
    }
    const strokes =
      '.line-stroke, .line-gap, .line-proof, .stage-line, .stage-note, .stage-time, .timing-dot, .tempo-plot .take';
    for (const element of document.querySelectorAll(strokes)) {
      const { stroke, fill } = getComputedStyle(element);
      if (![stroke, fill].some((colour) => colour === ink || colour === marked))
        found.push(`no colour of the system: ${element.outerHTML.slice(0, 100)} on ${ground}`);
    }
    return found;
  });
}

/** What axe asks of colours; all else is the same in light and in dark. */
const OF_COLOURS: readonly string[] = ['color-contrast', 'link-in-text-block'];

/** What axe objects to on a screen, all its rules or some asked. */
async function objections(
  page: Page,
  rules: readonly string[] | null,
): Promise<readonly unknown[]> {
  const isLaid = await page.evaluate(() => 'axe' in window);
  // Laid into the page once, and asked there: reading it takes longer than some screens. Nothing here is of another origin.
  if (!isLaid) await new AxeBuilder({ page }).setLegacyMode().include('h1').analyze();
  return page.evaluate(async (runOnly) => {
    const { axe } = window as unknown as { axe: { run(options: object): Promise<Found> } };
    interface Found {
      readonly violations: readonly {
        readonly id: string;
        readonly nodes: readonly { readonly html: string }[];
      }[];
    }
    const resultTypes = ['violations'];
    const { violations } = await axe.run({ resultTypes, ...(runOnly && { runOnly }) });
    return violations.map(({ id, nodes }) => [id, nodes[0]?.html]);
  }, rules);
}

const WINDOW = { width: 1280, height: 720 };

/** The windows in which a screen has to be read and pressed: 200 % of a small one, and a narrow one. */
const SMALL_WINDOWS = [
  { width: 640, height: 400 },
  { width: 320, height: 568 },
] as const;

/** What is cut, or moves by itself, in a window; a screen takes a moment to fit in. */
async function fits(page: Page, screen: string, window: typeof WINDOW): Promise<void> {
  await page.setViewportSize(window);
  const message = `${screen}, ${window.width} wide`;
  expect(await page.evaluate(() => innerWidth), message).toBe(window.width);
  await expect.poll(() => whatIsCut(page), { message, timeout: 5_000 }).toEqual([]);
  expect(await page.evaluate(() => document.getAnimations().length), message).toBe(0);
}

/**
 * All that holds on every screen is asked in one visit, for the way there costs more: axe finds nothing to object to in
 * light or in dark; in the colours of the system what is chosen is seen and what is drawn has them; at 200 % of a small
 * window, and 320 wide, all can be read and pressed without scrolling sideways, and nothing moves by itself.
 */
test('every screen can be read by axe, in the colours of the system, enlarged, and in a narrow window', async () => {
  const { page, context } = await openPage({
    // Enlarged to 200 %.
    ...{ colorScheme: 'light', reducedMotion: 'reduce', viewport: WINDOW, deviceScaleFactor: 2 },
  });
  await visitScreens(page, async (screen) => {
    expect([screen, 'light', await objections(page, null)]).toEqual([screen, 'light', []]);
    await page.emulateMedia({ colorScheme: 'dark' });
    expect([screen, 'dark', await objections(page, OF_COLOURS)]).toEqual([screen, 'dark', []]);
    await page.emulateMedia({ forcedColors: 'active' });
    expect([screen, 'forced', await whatIsLost(page)]).toEqual([screen, 'forced', []]);
    await page.emulateMedia({ colorScheme: 'light', forcedColors: 'none' });

    for (const window of SMALL_WINDOWS) await fits(page, screen, window);
    await page.setViewportSize(WINDOW);
  });
  await context.close();
});

test('help begins at its head, also in a window it does not fit in', async () => {
  const { page, context } = await openPage({ viewport: { width: 360, height: 480 } });
  await chooseChart(page, 'Long Pier');
  await page.keyboard.press('F1');
  const dialog = page.getByRole('dialog');
  const head = dialog.getByRole('heading', { name: 'Charts', exact: true });
  await expect.poll(() => head.evaluate((title) => title === document.activeElement)).toBe(true);
  const scrolled = () => dialog.evaluate(({ scrollTop }) => scrollTop);
  await expect.poll(scrolled).toBe(0);
  await page.keyboard.press('PageDown');
  await expect.poll(scrolled).toBeGreaterThan(100);
  await context.close();
});

test('where the keyboard is has a ring, below nothing that sticks', async () => {
  const { page, context } = await openPage({ viewport: { width: 1000, height: 500 } });
  await chooseChart(page, 'Lantern Walk');
  for (let step = 0; step < 45; step++) {
    await page.keyboard.press('Tab');
    const seen = await page.evaluate(() => {
      const focused = document.activeElement;
      if (focused === null || focused === document.body) return 'page';
      const { outlineStyle, outlineWidth } = getComputedStyle(focused);
      const { left, top, width, height } = focused.getBoundingClientRect();
      const at = document.elementFromPoint(left + width / 2, top + height / 2);
      const isCovered = at === null || !(focused.contains(at) || at.contains(focused));
      if (outlineStyle === 'none' || outlineWidth === '0px') return `no ring: ${focused.outerHTML}`;
      return isCovered ? `covered: ${focused.outerHTML}` : 'seen';
    });
    expect(seen).toMatch(/^(?:seen|page)$/);
  }
  await context.close();
});

describe('what is told aloud', () => {
  test('is nothing while a line is played, trouble at once, and the result at the end', async () => {
    const { page, context } = await openPage();
    await page.evaluate(() => {
      const told: string[] = [];
      Object.assign(window, { told });
      const live = '[aria-live]:not([aria-live=off]), [role=status], [role=alert], [role=log]';
      new MutationObserver((changes) => {
        for (const { target, addedNodes } of changes) {
          const around = target instanceof Element ? target : target.parentElement;
          const inside = [...addedNodes].filter((node) => node instanceof Element);
          const region =
            around?.closest(live) ??
            inside.find((element) => element.matches(live)) ??
            inside
              .map((element) => element.querySelector(live))
              .find((element) => element !== null);
          if (region) told.push(region.textContent ?? '');
        }
      }).observe(document.body, { childList: true, characterData: true, subtree: true });
    });
    const toldSince = () =>
      page.evaluate(() => (window as unknown as { told: string[] }).told.splice(0));
    await startTake(page);
    await until(page, page.locator('.stage-bar.current'));
    await toldSince();
    await playScript(page, SLOPPY);
    expect(await toldSince()).toEqual([]);
    await page.evaluate(() =>
      (window as unknown as { keyboard: { disconnect(): void } }).keyboard.disconnect(),
    );
    await until(page, page.getByText('The keyboard is gone'));
    expect((await toldSince()).join(' ')).toContain('The keyboard is gone');
    await stopTake(page);
    const session = await context.newCDPSession(page);
    const { nodes } = await session.send('Accessibility.getFullAXTree');
    const place = nodes.find(
      ({ role, description }) =>
        role?.value === 'heading' && description !== undefined && description.value !== '',
    );
    expect(place?.name?.value).toBe('Long Pier');
    expect(place?.description?.value).toMatch(/^\d+ of \d+ slots clean/);
    expect(await page.evaluate(() => document.activeElement?.tagName)).toBe('H1');
    await context.close();
  });
});
