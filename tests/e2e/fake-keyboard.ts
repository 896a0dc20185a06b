/** A fake MIDI keyboard in the page (`web-midi-test`), and a player who is given the time of every key. */

import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright';

const WMT = join(import.meta.dirname, '..', '..', 'node_modules', 'web-midi-test', 'wmt.js');

/** Puts the fake ports in place of the browser's own; call it before the page is opened. */
export async function giveFakeMidi(context: BrowserContext): Promise<void> {
  await context.addInitScript({ path: WMT });
  await context.addInitScript(() => {
    const fake = window as unknown as {
      WMT: { requestMIDIAccess: unknown; MidiSrc: new (name: string) => { connect(): void } };
      keyboard: unknown;
    };
    Object.defineProperty(navigator, 'requestMIDIAccess', {
      value: fake.WMT.requestMIDIAccess,
      configurable: true,
    });
    const keyboard = new fake.WMT.MidiSrc('Stage piano');
    keyboard.connect();
    fake.keyboard = keyboard;
  });
}

/** One key of a script: when it goes down after the script's start, how long it is held. */
export interface ScriptedKey {
  readonly afterMs: number;
  readonly midi: number;
  readonly holdMs: number;
}

/**
 * Plays a script in the page, on its own timers; done when the last key is up. With `from`, the script begins in the very
 * frame that shows what the selector finds.
 */
export async function playScript(
  page: Page,
  keys: readonly ScriptedKey[],
  from: string | null = null,
): Promise<void> {
  await page.evaluate(
    async ([script, selector]) => {
      while (selector !== null && document.querySelector(selector) === null) {
        await new Promise(requestAnimationFrame);
      }
      const { keyboard } = window as unknown as { keyboard: { emit(bytes: number[]): void } };
      const startMs = performance.now();
      const at = (ms: number, bytes: number[]) =>
        setTimeout(() => keyboard.emit(bytes), Math.max(0, startMs + ms - performance.now()));
      let lastMs = 0;
      for (const { afterMs, midi, holdMs } of script) {
        at(afterMs, [0x90, midi, 80]);
        at(afterMs + holdMs, [0x80, midi, 0]);
        lastMs = Math.max(lastMs, afterMs + holdMs);
      }
      await new Promise((resolve) => setTimeout(resolve, lastMs + 50));
    },
    [keys, from] as const,
  );
}

/** Plays a script from the first downbeat of a take on, however long the page took to be ready for its count-in. */
export function playFromDownbeat(page: Page, keys: readonly ScriptedKey[]): Promise<void> {
  return playScript(page, keys, '.bar.current');
}

/** Pulls the fake keyboard's plug, or puts it back. */
export async function plug(page: Page, isIn: boolean): Promise<void> {
  await page.evaluate((connect) => {
    const { keyboard } = window as unknown as {
      keyboard: { connect(): void; disconnect(): void };
    };
    if (connect) keyboard.connect();
    else keyboard.disconnect();
  }, isIn);
}
