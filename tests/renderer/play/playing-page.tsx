/**
 * The play screen in a document, over a host that keeps takes in memory and can be gone, on a fake sound and a clock of the
 * test's own.
 */

import { act, cleanup, fireEvent, render, screen } from '@testing-library/react';
import { afterEach, beforeEach, expect, vi } from 'vitest';
import type { Bridge } from '../../../shared/bridge/index.ts';
import type { TakeEvent, TakeEvents } from '../../../src/core/take/model.ts';
import type { RunWish } from '../../../src/renderer/prepare/run-wish.ts';
import PlayScreen from '../../../src/renderer/screens/play/play-screen.tsx';
import type { PlayerSettings } from '../../../src/renderer/settings/player-settings.ts';
import { FakeAudioContext, fakeAudio } from '../../helpers/fake-audio.ts';
import { Around, fakeHost } from '../../helpers/program-around.tsx';

/** Whatever ends a run, it is silent so soon after. */
export const SILENT_WITHIN_MS = 120;

interface KeptTake {
  readonly events: TakeEvent[];
  sources: TakeEvents['sources'];
  key: string;
  isOpen: boolean;
  isKept: boolean;
}

/** Uses fake timers and a fake sound in each test of a file. */
export function playOnFakeTime(): void {
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
}

export const passing = (ms: number) => act(() => vi.advanceTimersByTimeAsync(ms));

const AWAY = {
  ok: false,
  refusal: { code: 'internal', why: { kind: 'plain', what: 'hostSilent' } },
} as const;
export const BUSY = {
  ok: false,
  refusal: {
    code: 'busy',
    why: { kind: 'playedElsewhere', chartTitle: null },
  },
} as const;
const LOST = {
  ok: false,
  refusal: { code: 'notFound', why: { kind: 'plain', what: 'noSuchTake' } },
} as const;

/** Keeps takes as the host does: one without a note is not kept. */
export function takeHost(settings?: PlayerSettings) {
  const takes = new Map<string, KeptTake>();
  const takeOf = (request: { readonly takeId?: unknown }): KeptTake => {
    const take = takes.get(String(request.takeId));
    if (take === undefined) throw new Error('no such take');
    return take;
  };
  const state = { isAway: false, isBusy: false, hasLost: false };
  /** Calls whose answers wait until they are let go. */
  const held = new Map<string, (() => void)[]>();
  const host = fakeHost({
    ...(settings && { settings }),
    answers: {
      'takes.begin': ({ setUp }) => {
        const takeId = `take ${takes.size + 1}`;
        const { key } = setUp as RunWish['setUp'];
        takes.set(takeId, { events: [], sources: [], key, isOpen: true, isKept: false });
        return { takeId };
      },
      'takes.append': (request) => {
        const take = takeOf(request);
        const { from, events, sources } = request as unknown as TakeEvents & { from: number };
        take.events.push(...events.slice(take.events.length - from));
        take.sources = sources;
        return { stored: take.events.length };
      },
      'takes.finish': (request) => {
        const take = takeOf(request);
        take.isOpen = false;
        take.isKept = take.events.some(({ kind }) => kind === 'noteOn');
        return { kept: take.isKept };
      },
      'takes.delete': (request) => {
        takeOf(request).isKept = false;
        return {};
      },
    },
  });
  const bridge: Bridge = {
    ...host.bridge,
    async ask(name, request) {
      const waiting = held.get(name);
      if (waiting !== undefined) await new Promise<void>((resolve) => waiting.push(resolve));
      if (state.hasLost && name === 'takes.finish') return LOST as never;
      if (state.isAway && name.startsWith('takes')) return AWAY as never;
      if (state.isBusy && name === 'takes.begin') return BUSY as never;
      return host.bridge.ask(name, request);
    },
  };
  return {
    bridge,
    state,
    takes,
    hold: (name: string) => held.set(name, held.get(name) ?? []),
    isWaiting: (name: string) => (held.get(name)?.length ?? 0) > 0,
    letGo(name: string) {
      for (const go of held.get(name) ?? []) go();
      held.delete(name);
    },
    open: () => [...takes.values()].filter(({ isOpen }) => isOpen),
    kept: () => [...takes.entries()].filter(([, { isKept }]) => isKept).map(([takeId]) => takeId),
  };
}

export type TakeHost = ReturnType<typeof takeHost>;

/** Opens the play screen. */
export async function openPlaying(wish: RunWish, host: TakeHost = takeHost(), atOnce = false) {
  const onDone = vi.fn<(takeId: string) => void>();
  const onBack = vi.fn<() => void>();
  const shown = render(
    <Around bridge={host.bridge}>
      <PlayScreen
        wish={wish}
        atOnce={atOnce}
        onDone={onDone}
        onBack={onBack}
        onCalibrate={() => {}}
      />
    </Around>,
  );
  await passing(50);
  return { host, onDone, onBack, leave: shown.unmount };
}

export function press(name: RegExp | string): void {
  fireEvent.click(screen.getByRole('button', { name }));
}

export const pressEscape = () =>
  fireEvent.keyDown(document.body, { key: 'Escape', code: 'Escape' });

/** A computer key down and up: `KeyX` is D4. */
export async function playKey(code: string, holdMs = 60): Promise<void> {
  fireEvent.keyDown(document.body, { key: 'x', code });
  await passing(holdMs);
  fireEvent.keyUp(document.body, { key: 'x', code });
}

/** Lets time pass until something is to be seen. */
export async function until(isSeen: () => boolean, mostMs = 60_000): Promise<void> {
  for (let passedMs = 0; !isSeen(); passedMs += 20) {
    if (passedMs > mostMs) throw new Error('never came');
    await passing(20);
  }
}

export const isShown = (words: RegExp | string) => () => screen.queryByText(words) !== null;

/** The laws after a run has come to rest or was left. */
export async function expectQuiet(host: TakeHost): Promise<void> {
  await passing(SILENT_WITHIN_MS);
  expect(fakeAudio.isSilent()).toBe(true);
  await passing(1_000);
  expect(fakeAudio.isSilent(), 'nothing sounds later').toBe(true);
  expect(host.open(), 'no take is left open').toEqual([]);
}
