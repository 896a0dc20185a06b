/** Where sounds go: through the player's own MIDI instrument, and the keys of a keyboard without a voice of its own. */

import type { BrowserContext, Page } from 'playwright';
import { expect, test } from 'vitest';
import { until } from './controlled-time.ts';
import { startedSounds } from './sound-stand-in.ts';
import { chooseChart, start, stopTake, withProgram } from './the-program.ts';

const openPage = withProgram();

interface Heard {
  readonly bytes: readonly number[];
  readonly atMs: number;
}

/** An instrument that keeps what it is sent, on every page opened from here on. */
async function giveInstrument(context: BrowserContext): Promise<void> {
  await context.addInitScript(() => {
    const fake = window as unknown as {
      WMT: {
        MidiDst: new (name: string) => { connect(): void; receive: (bytes: number[]) => void };
      };
      heard: Heard[];
    };
    fake.heard = [];
    const instrument = new fake.WMT.MidiDst('Stage module');
    instrument.receive = (bytes) => {
      fake.heard.push({ bytes: [...bytes], atMs: performance.now() });
    };
    instrument.connect();
  });
}

const heardOn = (page: Page): Promise<readonly Heard[]> =>
  page.evaluate(() => (window as unknown as { heard: Heard[] }).heard);

test('click and bass sound from the MIDI instrument chosen, the click on its beat', async () => {
  const { page, context, seen } = await openPage();
  await giveInstrument(context);
  await page.reload();
  await page.getByRole('button', { name: 'Settings' }).click();
  const output = page.locator('label.field', { hasText: /^Click, bass, pad and lines/ });
  await output.locator('select').selectOption({ label: 'MIDI: Stage module' });
  await page.getByRole('button', { name: 'Charts', exact: true }).click();
  await chooseChart(page, 'Lantern Walk');
  await page.getByLabel('Tempo', { exact: true }).fill('120');
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await start(page);
  // General MIDI: percussion is the tenth channel. From memory.
  const clicks = async (): Promise<readonly Heard[]> =>
    (await heardOn(page)).filter(({ bytes }) => bytes[0] === 0x99);
  await until(page, async () => (await clicks()).length > 8);
  await stopTake(page);
  const beats = await clicks();
  // The fake port hands messages over by a timer of its own, at whole milliseconds.
  for (const [index, { atMs }] of beats.entries()) {
    const sinceFirstMs = atMs - (beats[0]?.atMs ?? 0);
    expect(Math.abs(sinceFirstMs - index * 500)).toBeLessThanOrEqual(1);
  }
  const bass = (await heardOn(page)).filter(({ bytes }) => bytes[0] === 0x91);
  // The root of B♭ major, whatever the octave.
  expect((bass[0]?.bytes[1] ?? 0) % 12).toBe(10);
  // Stopped: every channel that sounded was told to be silent.
  const off = (await heardOn(page)).filter(({ bytes }) => bytes[1] === 123);
  expect(new Set(off.map(({ bytes }) => bytes[0]))).toEqual(new Set([0xb1, 0xb9]));
  expect(seen).toEqual({ errors: [], foreign: [] });
  await context.close();
});

test('the computer keys are sounded by the recorded piano, a MIDI keyboard only when the player asks', async () => {
  const { page, context, seen } = await openPage();
  const asked: string[] = [];
  page.on('request', (request) => {
    if (request.url().includes('/piano/')) asked.push(request.url());
  });
  const whose = page.getByLabel('The computer sounds the keys of');
  const begun = async () =>
    (await startedSounds(page)).filter(({ kind }) => kind === 'buffer').length;
  const pressMidi = () =>
    page.evaluate(() => {
      const { keyboard } = window as unknown as { keyboard: { emit(bytes: number[]): void } };
      keyboard.emit([0x90, 60, 80]);
      keyboard.emit([0x80, 60, 0]);
    });
  await chooseChart(page, 'Lantern Walk');
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await page.getByText('Listening to Stage piano').waitFor();
  await pressMidi();
  expect(asked).toEqual([]);
  const recordings = page.waitForResponse((response) => response.url().endsWith('/piano/60.ogg'));
  await page.keyboard.press('KeyZ');
  expect((await recordings).status()).toBe(200);
  // The recording takes a moment to be unpacked; until then our own voice sounds, which is no recording.
  const soundsAt = async (press: () => Promise<void>): Promise<void> => {
    const before = await begun();
    const after = async (): Promise<number> => {
      await press();
      return begun();
    };
    await expect.poll(after, { timeout: 20_000 }).toBeGreaterThan(before);
  };
  await soundsAt(() => page.keyboard.press('KeyZ'));

  await page.getByRole('button', { name: '← Charts' }).click();
  await page.getByRole('button', { name: 'Settings' }).click();
  await whose.selectOption({ label: 'every keyboard' });
  await page.getByRole('button', { name: 'Charts', exact: true }).click();
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await page.getByText('Listening to Stage piano').waitFor();
  await soundsAt(pressMidi);
  await page.getByRole('button', { name: '← Charts' }).click();
  await page.getByRole('button', { name: 'Settings' }).click();
  await whose.selectOption({ label: 'the computer keyboard' });
  expect(seen).toEqual({ errors: [], foreign: [] });
  await context.close();
});
