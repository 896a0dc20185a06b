/** A fake MIDI keyboard in the page (`web-midi-test`), and a player who is given the time of every key. */

import { join } from 'node:path';
import type { BrowserContext, Page } from 'playwright';
import { holdTime, passTime, until } from './controlled-time.ts';
import { type StartedSound, startedSounds } from './sound-stand-in.ts';

const WMT = join(import.meta.dirname, '..', '..', 'node_modules', 'web-midi-test', 'wmt.js');

/** What the page's window has of it. */
export interface FakeKeyboard {
  keyboard: { connect(): void; disconnect(): void; emit(bytes: number[]): void };
  emitAt(atMs: number, bytes: number[]): void;
}

/** Puts the fake ports in place of the browser's own; call it before the page is opened. */
export async function giveFakeMidi(context: BrowserContext): Promise<void> {
  await context.addInitScript({ path: WMT });
  await context.addInitScript(() => {
    const fake = window as unknown as FakeKeyboard & {
      WMT: { requestMIDIAccess: unknown; MidiSrc: new (name: string) => FakeKeyboard['keyboard'] };
    };
    Object.defineProperty(navigator, 'requestMIDIAccess', {
      value: fake.WMT.requestMIDIAccess,
      configurable: true,
    });
    const keyboard = new fake.WMT.MidiSrc('Stage piano');
    keyboard.connect();
    fake.keyboard = keyboard;
    // A port says itself when a message came; the stand-in asks the clock.
    fake.emitAt = (atMs, bytes) => {
      const { now } = performance;
      performance.now = () => atMs;
      keyboard.emit(bytes);
      performance.now = now;
    };
  });
}

/** One key of a script: when it goes down after the script's start, how long it is held. */
export interface ScriptedKey {
  readonly afterMs: number;
  readonly midi: number;
  readonly holdMs: number;
}

/** Plays a script from now on, at exact times of the page's clock; done, with the clock held, when the last key is up. */
export async function playScript(page: Page, keys: readonly ScriptedKey[]): Promise<void> {
  await holdTime(page);
  await playFrom(page, await timeOf(page), keys);
}

/**
 * Plays a script from the first downbeat of the take that is about to be counted in, and gives the time of that downbeat on
 * the page's clock. Like any player it goes by the count-in: so many beats after its first click.
 */
export async function playFromDownbeat(
  page: Page,
  keys: readonly ScriptedKey[],
  countInBeats = 4,
): Promise<number> {
  await holdTime(page);
  const heardBefore = (await clicks(page)).length;
  const counted = async () => (await clicks(page)).slice(heardBefore);
  await until(page, async () => (await counted()).length >= 2);
  const [first = 0, second = 0] = await counted();
  const downbeatMs = first + countInBeats * (second - first);
  await playFrom(page, downbeatMs, keys);
  return downbeatMs;
}

/** When the clicks laid so far are heard. */
async function clicks(page: Page): Promise<readonly number[]> {
  return (await startedSounds(page)).filter(isClick).map(({ fromMs }) => fromMs);
}

/** A click is a recording as well, but a short one. */
function isClick({ kind, durationMs }: StartedSound): boolean {
  return kind === 'buffer' && (durationMs ?? 0) < 500;
}

/** Plays a script that begins at a time of the page's clock, which is held. */
export async function playFrom(
  page: Page,
  startMs: number,
  keys: readonly ScriptedKey[],
): Promise<void> {
  const endMs = await page.evaluate(
    ([fromMs, script]) => {
      const { emitAt } = window as unknown as FakeKeyboard;
      const nowMs = performance.now();
      let lastMs = 0;
      for (const { afterMs, midi, holdMs } of script) {
        const downMs = fromMs + afterMs;
        setTimeout(() => emitAt(downMs, [0x90, midi, 80]), downMs - nowMs);
        setTimeout(() => emitAt(downMs + holdMs, [0x80, midi, 0]), downMs + holdMs - nowMs);
        lastMs = Math.max(lastMs, afterMs + holdMs);
      }
      return fromMs + lastMs;
    },
    [startMs, keys] as const,
  );
  await passTime(page, Math.ceil(endMs - (await timeOf(page))) + 50);
}

/** Sends the page a message with the time at which the port got it, which may be in the past. */
export function emitAt(page: Page, atMs: number, bytes: readonly number[]): Promise<void> {
  return page.evaluate(
    ([ms, message]) => (window as unknown as FakeKeyboard).emitAt(ms, [...message]),
    [atMs, bytes] as const,
  );
}

/** The time of the page's clock. */
export function timeOf(page: Page): Promise<number> {
  return page.evaluate(() => performance.now());
}

/** Holds a key of the computer down for a time of the page's clock, which is held. */
export async function pressFor(page: Page, key: string, ms: number): Promise<void> {
  await page.keyboard.down(key);
  await passTime(page, ms);
  await page.keyboard.up(key);
}

/** Pulls the fake keyboard's plug, or puts it back. */
export async function plug(page: Page, isIn: boolean): Promise<void> {
  await page.evaluate((connect) => {
    const { keyboard } = window as unknown as FakeKeyboard;
    if (connect) keyboard.connect();
    else keyboard.disconnect();
  }, isIn);
}
