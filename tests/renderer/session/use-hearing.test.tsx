// @vitest-environment happy-dom
/** What a screen plays ends with it, also while it is starting; what another plays ends it too. */

import { act, cleanup, renderHook } from '@testing-library/react';
import type { ReactNode } from 'react';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import type { SoundEvent } from '../../../src/renderer/audio/index.ts';
import { useHearing } from '../../../src/renderer/session/use-hearing.ts';
import { FakeAudioContext, fakeAudio } from '../../helpers/fake-audio.ts';
import { Around, fakeHost } from '../../helpers/program-around.tsx';

vi.mock('webmidi', () => import('../../helpers/fake-webmidi.ts'));

const passing = (ms: number) => act(() => vi.advanceTimersByTimeAsync(ms));

beforeEach(() => {
  vi.useFakeTimers({ now: 0 });
  fakeAudio.reset();
  vi.stubGlobal('AudioContext', FakeAudioContext);
  vi.stubGlobal('fetch', async () => new Response(null, { status: 404 }));
});
afterEach(() => {
  cleanup();
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

function scale(notes: number): Iterator<SoundEvent> {
  return Array.from({ length: notes }, (_, index): SoundEvent => {
    return { kind: 'bass', atMs: index * 200, midi: 40 + index, durationMs: 200, velocity: 80 };
  }).values();
}

async function twoHearings() {
  const host = fakeHost();
  const shown = renderHook(() => ({ one: useHearing(), other: useHearing() }), {
    wrapper: ({ children }: { readonly children: ReactNode }) => (
      <Around bridge={host.bridge}>{children}</Around>
    ),
  });
  await passing(50);
  return shown;
}

test('is playing from the moment it is asked for until the last sound, and tells the time', async () => {
  const { result } = await twoHearings();
  const times: (number | null)[] = [];
  act(() => void result.current.one.hear(scale(5), (timeMs) => times.push(timeMs)));
  expect(result.current.one.isPlaying).toBe(true);
  await passing(1600);
  expect(result.current.one.isPlaying).toBe(true);
  await passing(1000);
  expect(result.current.one.isPlaying).toBe(false);
  const heard = times.flatMap((timeMs) => timeMs ?? []);
  expect(heard).toEqual(heard.toSorted((one, other) => one - other));
  expect(heard.at(-1)).toBeGreaterThan(900);
  expect(times.at(-1)).toBeNull();
  await passing(100);
  expect(fakeAudio.isSilent()).toBe(true);
});

test('another that is heard ends the first', async () => {
  const { result } = await twoHearings();
  act(() => void result.current.one.hear(scale(50)));
  await passing(1000);
  act(() => void result.current.other.hear(scale(50)));
  await passing(500);
  expect([result.current.one.isPlaying, result.current.other.isPlaying]).toEqual([false, true]);
});

test.each([0, 100, 1000])('leaving %d ms after is silence', async (ms) => {
  const { result, unmount } = await twoHearings();
  act(() => void result.current.one.hear(scale(50)));
  await passing(ms);
  unmount();
  await passing(120);
  expect(fakeAudio.isSilent()).toBe(true);
  await passing(5000);
  expect(fakeAudio.isSilent()).toBe(true);
});
