/** Where sounds go: through the player's own MIDI instrument, and the keys of a keyboard without a voice of its own. */

import type { BrowserContext, Page } from 'playwright';
import { expect, test } from 'vitest';
import type { Report } from '../../src/core/grading/index.ts';
import { passTime, until } from './controlled-time.ts';
import { playFrom, playFromDownbeat, timeOf } from './fake-keyboard.ts';
import { resumeSound, startedSounds, suspendSound } from './sound-stand-in.ts';
import {
  chooseChart,
  savedReport,
  start,
  startTake,
  stopTake,
  withProgram,
} from './the-program.ts';

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
  await page.keyboard.press('Escape');
  await passTime(page, 120);
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

/** The keys of a channel that sound once all these messages are through. */
function soundingAfter(messages: readonly Heard[], channel: number): ReadonlySet<number> {
  const sounding = new Set<number>();
  for (const { bytes } of messages.toSorted((one, other) => one.atMs - other.atMs)) {
    const [status = 0, key = 0] = bytes;
    if (status === (0x90 | channel)) sounding.add(key);
    else if (status === (0x80 | channel)) sounding.delete(key);
    else if (status === (0xb0 | channel) && key === 123) sounding.clear();
  }
  return sounding;
}

test('an instrument that plays 0.13 ms early or late cuts off no common tone; Stop during a chord is silence', async () => {
  const { page, context, seen } = await openPage();
  await giveInstrument(context);
  await page.reload();
  await page.getByRole('button', { name: 'Settings' }).click();
  const output = page.locator('label.field', { hasText: /^Click, bass, pad and lines/ });
  await output.locator('select').selectOption({ label: 'MIDI: Stage module' });
  await page.getByLabel('Chord pad').check();
  await page.getByRole('button', { name: 'Charts', exact: true }).click();
  await chooseChart(page, 'Lantern Walk');
  await page.getByLabel('Tempo', { exact: true }).fill('160');
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await start(page);
  const PAD = 2;
  const struck = async (): Promise<readonly Heard[]> =>
    (await heardOn(page)).filter(({ bytes }) => bytes[0] === (0x90 | PAD));
  // The second of two chords in one bar has just begun.
  await until(page, async () => new Set((await struck()).map(({ atMs }) => atMs)).size >= 5);
  const messages = await heardOn(page);
  const jittered = messages.map(({ bytes, atMs }, index) => {
    return { bytes, atMs: atMs + 0.13 * Math.sin(index * 91.7) };
  });
  for (const { bytes, atMs } of await struck()) {
    const soonAfter = jittered.filter((message) => message.atMs < atMs + 30);
    expect([...soundingAfter(soonAfter, PAD)]).toContain(bytes[1]);
  }
  expect(soundingAfter(messages, PAD).size).toBeGreaterThan(2);
  await page.keyboard.press('Escape');
  await passTime(page, 120);
  const after = await heardOn(page);
  for (const channel of [1, PAD, 9]) expect([...soundingAfter(after, channel)]).toEqual([]);
  // Each key was let go by itself: there are instruments that do not know the controller.
  const withoutController = after.filter(({ bytes }) => bytes[1] !== 123);
  expect([...soundingAfter(withoutController, PAD)]).toEqual([]);
  await passTime(page, 3000);
  expect(await heardOn(page)).toHaveLength(after.length);
  expect(seen).toEqual({ errors: [], foreign: [] });
  await context.close();
});

test('sound that is suspended for 300 ms is said on the page; what is played after it is judged by what is heard', async () => {
  const { page, done } = await openPage();
  await startTake(page);
  const SLOT_MS = 250;
  const keys = (from: number, to: number) =>
    Array.from({ length: to - from }, (_, index) => {
      const slot = from + index;
      return { afterMs: slot * SLOT_MS, midi: slot % 2 === 0 ? 62 : 64, holdMs: 180 };
    });
  const downbeatMs = await playFromDownbeat(page, keys(0, 8));
  const stoodFromMs = await timeOf(page);
  await suspendSound(page);
  await passTime(page, 300);
  await page.getByText('The sound has stopped or moved').waitFor();
  await resumeSound(page);
  const stoodMs = (await timeOf(page)) - stoodFromMs;
  // The player goes by what is heard, and takes a bar to find in again.
  await playFrom(page, downbeatMs + stoodMs, keys(12, 24));
  await page.getByText('The sound was interrupted in this take').waitFor();
  await stopTake(page);
  const report = await savedReport(page, 'suspended.json');
  const played = report.slots.filter(({ index }) => index < 8 || index >= 12);
  expect(played.map(({ index }) => index)).toEqual(
    [...keys(0, 8), ...keys(12, 24)].map(({ afterMs }) => afterMs / SLOT_MS),
  );
  for (const { note, faults } of played) {
    expect(Math.abs(note?.deviationMs ?? Number.NaN)).toBeLessThan(2);
    expect(faults).not.toContain('late');
  }
  done();
});

test('300 ms without sound in mid-take: the slots they touch are not judged, all others as without', async () => {
  const SLOT_MS = 250;
  const STOOD_FROM_SLOT = 8;
  const STOOD_MS = 300;
  /** Eighths at 120 with faults before and after the pause: one left out, one late, one outside. */
  const KEYS = Array.from({ length: 24 }, (_, slot) => ({
    slot,
    midi: slot === 5 ? 66 : slot % 2 === 0 ? 62 : 64,
    afterMs: slot * SLOT_MS + (slot === 3 || slot === 17 ? 90 : 0),
    holdMs: 180,
  })).filter(({ slot }) => slot !== 14);
  const { page, done } = await openPage();

  async function reportOf(isSuspended: boolean): Promise<Report> {
    await startTake(page);
    const before = KEYS.filter(({ slot }) => slot < STOOD_FROM_SLOT);
    const downbeatMs = await playFromDownbeat(page, before);
    const stoodMs = isSuspended ? STOOD_MS : 0;
    if (isSuspended) {
      await suspendSound(page);
      await passTime(page, STOOD_MS);
      await resumeSound(page);
    }
    // The player waits for the beat and goes on with it.
    await playFrom(
      page,
      downbeatMs + stoodMs,
      KEYS.filter(({ slot }) => slot >= STOOD_FROM_SLOT),
    );
    await passTime(page, 1000);
    const live = await page.locator('.totals').textContent();
    await stopTake(page);
    const report = await savedReport(page, `stood-${isSuspended}.json`);
    const { clean, slots } = report.summary;
    expect(live).toContain(`${clean} of ${slots} clean`);
    await page.getByRole('button', { name: '← Charts' }).click();
    return report;
  }

  const without = await reportOf(false);
  const suspended = await reportOf(true);
  const unjudged = suspended.slots.filter(({ judged }) => !judged).map(({ index }) => index);
  expect(without.slots.every(({ judged }) => judged)).toBe(true);
  expect(suspended.breaks).toHaveLength(1);
  // A cell is half a slot to either side, its ends with it. Source: grading.md, "Time and grid".
  const { fromMs = 0, toMs = 0 } = suspended.breaks[0] ?? {};
  const isTouched = ({ index }: { readonly index: number }) =>
    (index + 0.5) * SLOT_MS >= fromMs && (index - 0.5) * SLOT_MS <= toMs;
  expect(unjudged).toEqual(suspended.slots.filter(isTouched).map(({ index }) => index));
  expect(unjudged.length).toBeGreaterThan(0);
  // What sounds stands still for 300 ms, and is found again within 250.
  expect(toMs - fromMs).toBeLessThanOrEqual(STOOD_MS + 250);
  const verdictsOf = ({ slots }: Report) =>
    slots
      .filter(({ index }) => !unjudged.includes(index))
      .map(({ index, note, faults, marks }) => [index, note?.midi ?? null, faults, marks]);
  expect(verdictsOf(suspended)).toEqual(verdictsOf(without));
  done();
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
