/**
 * Time that the test gives the page. It flows by itself until it is held; held, it passes only in `passTime` and
 * `until`, as fast as the page can follow, so that no minute is waited for and no busy machine makes a key late. The
 * network stays real: time waits for what the page has asked.
 */

import type { BrowserContext, Locator, Page } from 'playwright';
import { giveSoundStandIn } from './sound-stand-in.ts';

/** Time passes in such steps; before each the host has answered what it was asked. */
const STEP_MS = 50;
/** So often the page is looked at. */
const LOOK_MS = 100;
/** What has not come after so much real time never will. */
const PATIENCE_MS = 60_000;

/** Puts clock and sound of every page opened from here on in the test's hand. */
export async function giveControlledTime(context: BrowserContext): Promise<void> {
  await context.clock.install();
  await giveSoundStandIn(context);
  await context.addInitScript(countAsked);
}

/** Stops the clock of a page, where it stands. */
export async function holdTime(page: Page): Promise<void> {
  for (;;) {
    const nowMs = await page.evaluate(() => Date.now());
    try {
      return await page.clock.pauseAt(nowMs + 20);
    } catch (error) {
      // It went on past that in between, and stands still now: the next time it does as it is told.
      if (!String(error).includes('to the past')) throw error;
    }
  }
}

/** Lets the clock of a page go on by itself. */
export function letTimeFlow(page: Page): Promise<void> {
  return page.clock.resume();
}

/** Lets so much time pass on a page whose clock is held. */
export function passTime(page: Page, ms: number): Promise<void> {
  // As `page.clock.runFor` does, but all steps in one call: on a busy machine calls are what takes long.
  return page.evaluate(
    async ([wholeMs, stepMs]) => {
      const { answered, __pwClock } = window as unknown as Controlled;
      for (let leftMs = wholeMs; leftMs > 0; leftMs -= stepMs) {
        await answered();
        await __pwClock.controller.runFor(Math.min(stepMs, leftMs));
      }
      await answered();
    },
    [ms, STEP_MS] as const,
  );
}

/** Lets time pass, on a page whose clock is held, until something is to be seen, or holds. */
export async function until(
  page: Page,
  what: Locator | (() => boolean | Promise<boolean>),
): Promise<void> {
  const holds = typeof what === 'function' ? what : () => what.first().isVisible();
  const startMs = Date.now();
  while (!(await holds())) {
    if (Date.now() - startMs > PATIENCE_MS) throw new Error(`never came: ${String(what)}`);
    await passTime(page, LOOK_MS);
  }
}

/** What the page's window has: Playwright's clock, and when the host has answered all that was asked. */
interface Controlled {
  readonly __pwClock: { readonly controller: { runFor(ms: number): Promise<void> } };
  answered(): Promise<void>;
}

/** Runs in the page: counts what it has asked, by request or over its socket, and was not answered yet. */
function countAsked(): void {
  let asked = 0;
  let waiting: (() => void)[] = [];
  // Whoever asked reads the answer first.
  function answer(count: number): void {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      asked -= count;
      if (asked > 0) return;
      for (const go of waiting) go();
      waiting = [];
    };
    port2.postMessage(null);
  }
  const ask = window.fetch;
  window.fetch = async (...request) => {
    asked++;
    try {
      return await ask(...request);
    } finally {
      answer(1);
    }
  };
  window.WebSocket = class extends WebSocket {
    /** Every message of the page has one answer; what is pushed is none. */
    #asked = 0;
    constructor(address: string | URL) {
      super(address);
      this.addEventListener('message', ({ data }) => {
        if (JSON.parse(String(data)).kind === 'push') return;
        this.#asked--;
        answer(1);
      });
      this.addEventListener('close', () => {
        answer(this.#asked);
        this.#asked = 0;
      });
    }
    override send(text: string): void {
      super.send(text);
      this.#asked++;
      asked++;
    }
  };
  Object.assign(window, {
    answered: () =>
      new Promise<void>((resolve) => {
        if (asked === 0) resolve();
        else waiting.push(resolve);
      }),
  });
}
