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

/** The messages the page has sent to its host, in order. */
export function sentMessages(page: Page): Promise<readonly string[]> {
  return page.evaluate(() => (window as unknown as Controlled).sent);
}

/** Calls to the host that a test holds back, to let them go or to answer them in the host's place. */
export interface Gate {
  /** Names of the calls to be held. */
  holds: string[];
  readonly held: { readonly name: string; go(): void; answer(answer: unknown): void }[];
}

/** What the page's window has: Playwright's clock, and when the host has answered all that was asked. */
export interface Controlled {
  readonly __pwClock: {
    readonly controller: { runFor(ms: number): Promise<void> };
    readonly builtins: Pick<Window, 'setTimeout' | 'performance'>;
  };
  answered(): Promise<void>;
  readonly sent: readonly string[];
  readonly gate: Gate;
}

/**
 * Runs in the page: counts what it has asked, over its socket or by fetching, and was not answered yet. Whether the host is
 * alive the page judges by time, so signs of life are waited for as well.
 */
function countAsked(): void {
  /** A host that says nothing for so long, in real time, is not waited for. */
  const LONGEST_MS = 10_000;
  const { builtins } = (window as unknown as Controlled).__pwClock;
  let asked = 0;
  let waiting: (() => void)[] = [];
  function go(): void {
    for (const resolve of waiting) resolve();
    waiting = [];
  }
  /** Whoever asked reads the answer first. */
  function answered(times: number): void {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      asked -= times;
      if (asked === 0) go();
    };
    port2.postMessage(null);
  }

  const fetched = window.fetch;
  window.fetch = async (...request) => {
    asked++;
    try {
      return await fetched(...request);
    } finally {
      answered(1);
    }
  };
  const sent: string[] = [];
  const gate: Gate = { holds: [], held: [] };
  const kindOf = (text: unknown): unknown => JSON.parse(String(text)).kind;
  window.WebSocket = class extends WebSocket {
    #asked = 0;
    constructor(address: string | URL, protocols?: string | string[]) {
      super(address, protocols);
      this.addEventListener('message', ({ data }) => {
        if (!['answer', 'pong'].includes(String(kindOf(data)))) return;
        this.#asked--;
        answered(1);
      });
      this.addEventListener('close', () => {
        answered(this.#asked);
        this.#asked = 0;
      });
    }
    override send(text: string): void {
      const { kind, id, name } = JSON.parse(text);
      if (kind !== 'ask' || !gate.holds.includes(name)) {
        this.#put(text);
        return;
      }
      gate.held.push({
        name,
        go: () => this.#put(text),
        answer: (answer) => {
          this.#asked++;
          asked++;
          const data = JSON.stringify({ kind: 'answer', id, answer });
          this.dispatchEvent(new MessageEvent('message', { data }));
        },
      });
    }
    #put(text: string): void {
      if (['ask', 'ping'].includes(String(kindOf(text)))) {
        this.#asked++;
        asked++;
      }
      sent.push(text);
      super.send(text);
    }
  };
  Object.assign(window, {
    sent,
    gate,
    answered: () =>
      new Promise<void>((resolve) => {
        if (asked === 0) return resolve();
        waiting.push(resolve);
        builtins.setTimeout(resolve, LONGEST_MS);
      }),
  });
}
