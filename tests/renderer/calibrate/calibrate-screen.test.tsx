// @vitest-environment happy-dom
/** Calibration leaves nothing sounding, however it is left; and finds what was planted. */

import { act, cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { CALIBRATION_BEAT_MS } from '../../../src/renderer/calibration/estimate.ts';
import CalibrateScreen from '../../../src/renderer/screens/calibrate/calibrate-screen.tsx';
import { FakeAudioContext, fakeAudio } from '../../helpers/fake-audio.ts';
import { FakeInput, plugIn } from '../../helpers/fake-webmidi.ts';
import { renderInProgram } from '../../helpers/program-around.tsx';

vi.mock('webmidi', () => import('../../helpers/fake-webmidi.ts'));

const piano = new FakeInput('1', 'Stage piano');
const passing = (ms: number) => act(() => vi.advanceTimersByTimeAsync(ms));

beforeEach(async () => {
  vi.useFakeTimers({ now: 0 });
  fakeAudio.reset();
  vi.stubGlobal('AudioContext', FakeAudioContext);
  Object.defineProperty(navigator, 'requestMIDIAccess', { value: () => {}, configurable: true });
  plugIn(piano);
});
afterEach(() => {
  cleanup();
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

async function open() {
  const shown = renderInProgram(
    <CalibrateScreen device="Stage piano" backTo="Settings" onDone={() => {}} />,
  );
  await passing(100);
  return { ...shown, start: screen.getByRole('button', { name: 'Start the click' }) };
}

test('Start pressed twice begins one click, and leaving ends it', async () => {
  const { start, unmount } = await open();
  fireEvent.click(start);
  fireEvent.click(start);
  await passing(2000);
  expect(fakeAudio.isSilent()).toBe(false);
  const [first = 0, second = 0] = fakeAudio.heard();
  expect((second - first) * 1000).toBeCloseTo(CALIBRATION_BEAT_MS, 3);
  unmount();
  await passing(120);
  expect(fakeAudio.isSilent()).toBe(true);
  await passing(5000);
  expect(fakeAudio.isSilent()).toBe(true);
});

test.each([0, 10, 100, 250])('leaving %d ms into starting is silence', async (ms) => {
  const { start, unmount } = await open();
  fireEvent.click(start);
  await passing(ms);
  unmount();
  await passing(120);
  expect(fakeAudio.isSilent()).toBe(true);
  await passing(5000);
  expect(fakeAudio.isSilent()).toBe(true);
});

test('keys that come 70 ms after what is heard are found 70 ms late, a stall in between or not', async () => {
  const { start } = await open();
  fireEvent.click(start);
  await passing(400);
  const [context] = fakeAudio.contexts();
  const first = fakeAudio.heard()[0] ?? 0;
  const beats = new Set<number>();
  for (let passedMs = 0; passedMs < 20_000; passedMs += 5) {
    if (passedMs === 5000) context?.stall();
    if (passedMs === 5300) context?.goOn();
    const heardMs = ((context?.currentTime ?? 0) - first) * 1000 - 20;
    const beat = Math.floor((heardMs - 70) / CALIBRATION_BEAT_MS);
    if (beat >= 4 && beat < 20 && !beats.has(beat)) {
      beats.add(beat);
      act(() => piano.say([0x90, 60, 80]));
    }
    await passing(5);
  }
  expect(screen.getByText(/Your keys arrive/).textContent).toMatch(/arrive 7[0-4]\.\d ms after/);
});
