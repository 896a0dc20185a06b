/** A take and the sound it is played to: times as heard, breaks handed on before anything in them is judged. */

import { beforeEach, expect, test, vi } from 'vitest';
import type { Bridge, Refusal } from '../../../shared/bridge/index.ts';
import { completeSettings } from '../../../src/core/grading/index.ts';
import type { TakeBreak } from '../../../src/core/take/model.ts';
import { startLiveTake, type TakeClock } from '../../../src/renderer/session/live-take.ts';
import { formFromText } from '../../helpers/form-from-text.ts';
import { keyboardNamed } from '../../helpers/page-clock.ts';
import { setUpFor } from '../../helpers/set-up.ts';

const FORM = formFromText('| C | F | G7 | C |');
/** A slot lasts 250 ms. */
const SLOT_MS = 250;
/** The score begins at this time of the page. */
const ZERO_MS = 5_000;

interface Appended {
  readonly events: readonly { readonly atMs: number }[];
  readonly breaks: readonly TakeBreak[];
}

let appended: Appended[];
let breaks: TakeBreak[];
let doubtedFromMs: number | null;
let tell: () => void;
/** Why the host takes no events, or null. */
let refusesFor: Refusal['code'] | null;
let finished: number;

/** A clock that is in doubt and tells breaks when the test says so. */
const clock: TakeClock = {
  scoreMs: (pageMs) => pageMs - ZERO_MS,
  breaks: () => breaks,
  isDoubted: () => doubtedFromMs !== null,
  openBreak: (pageMs) =>
    doubtedFromMs === null ? null : { fromMs: doubtedFromMs, toMs: pageMs - ZERO_MS },
  onBreak: (listener) => {
    tell = listener;
  },
  over: new AbortController().signal,
};

beforeEach(() => {
  vi.useFakeTimers();
  appended = [];
  breaks = [];
  doubtedFromMs = null;
  refusesFor = null;
  finished = 0;
  return () => void vi.useRealTimers();
});

function start() {
  let stored = 0;
  const bridge = {
    async ask(name: string, request: Appended) {
      if (name !== 'takes.append') {
        finished++;
        return { ok: true, value: { kept: true } };
      }
      if (refusesFor !== null) {
        return {
          ok: false,
          refusal: { code: refusesFor, why: { kind: 'plain', what: 'hostSilent' } },
        };
      }
      appended.push(request);
      stored += request.events.length;
      return { ok: true, value: { stored } };
    },
  } as unknown as Pick<Bridge, 'ask'>;
  const grade = completeSettings({ level: 'steps', tempo: { kind: 'steady', tempoBpm: 120 } });
  const take = startLiveTake(bridge, 'take', FORM, { ...setUpFor(), grade }, keyboardNamed, clock);
  return {
    take,
    /** Plays eighths up and down the scale, and tells the time as the play screen does. */
    play(fromSlot: number, toSlot: number) {
      for (let slot = fromSlot; slot < toSlot; slot++) {
        const pageMs = ZERO_MS + slot * SLOT_MS;
        take.key(
          { kind: 'noteOn', atMs: pageMs, midi: [60, 62][slot % 2] ?? 60, velocity: 80 },
          'Piano',
        );
        for (let afterMs = 0; afterMs < SLOT_MS; afterMs += 10) take.tick(pageMs + afterMs);
      }
    },
  };
}

test('events are stored at the time of the score that was heard', async () => {
  const { take, play } = start();
  play(0, 3);
  take.end(ZERO_MS + 3 * SLOT_MS);
  await take.handIn();
  const times = appended.flatMap(({ events }) => events.map(({ atMs }) => atMs));
  expect(times).toEqual([0, SLOT_MS, 2 * SLOT_MS]);
});

test('while the sound is in doubt nothing settles; a break is told before it does', async () => {
  const { take, play } = start();
  play(0, 4);
  const settledBefore = take.snapshot().settled.length;
  doubtedFromMs = 4 * SLOT_MS - 40;
  tell();
  play(4, 8);
  expect(take.snapshot().settled.length).toBe(settledBefore);
  expect(take.snapshot().sound).toBe('doubted');
  doubtedFromMs = null;
  breaks = [{ fromMs: 960, toMs: 1510.123456 }];
  tell();
  play(8, 12);
  expect(take.snapshot().settled.length).toBeGreaterThan(8);
  expect(take.snapshot().sound).toBe('wasBroken');
  take.end(ZERO_MS + 12 * SLOT_MS);
  await take.handIn();
  // Whole microseconds, as the host keeps them.
  expect(appended.at(-1)?.breaks).toEqual([{ fromMs: 960, toMs: 1510.123 }]);
});

test('a doubt that was nothing leaves no break', async () => {
  const { take, play } = start();
  doubtedFromMs = 100;
  tell();
  doubtedFromMs = null;
  tell();
  play(0, 4);
  expect(take.snapshot().sound).toBe('runs');
  take.end(ZERO_MS + 4 * SLOT_MS);
  await take.handIn();
  expect(appended.at(-1)?.breaks).toEqual([]);
});

test('breaks reach the host also when no key comes after them', async () => {
  const { take, play } = start();
  play(0, 4);
  await vi.advanceTimersByTimeAsync(200);
  breaks = [{ fromMs: 900, toMs: 1500 }];
  tell();
  await vi.advanceTimersByTimeAsync(200);
  expect(appended.at(-1)).toMatchObject({ events: [], breaks });
  take.end(ZERO_MS + 2000);
  await take.handIn();
});

test('a take that ends in doubt ends in a break', async () => {
  const { take, play } = start();
  play(0, 4);
  doubtedFromMs = 900;
  tell();
  take.end(ZERO_MS + 1200);
  await take.handIn();
  expect(appended.at(-1)?.breaks).toEqual([{ fromMs: 900, toMs: 1200 }]);
});

test('a take whose events the host never takes is finished with what it has, and that is said', async () => {
  const { take, play } = start();
  play(0, 4);
  refusesFor = 'notFound';
  take.end(ZERO_MS + 1200);
  expect(await take.handIn()).toMatchObject({ ok: false, refusal: { code: 'notFound' } });
  expect(finished).toBe(1);
});

test('a library that was moved away may be put back: until then the take is not finished without its events', async () => {
  const { take, play } = start();
  play(0, 4);
  refusesFor = 'libraryGone';
  take.end(ZERO_MS + 1200);
  expect(await take.handIn()).toMatchObject({ ok: false, refusal: { code: 'libraryGone' } });
  expect(finished).toBe(0);
  refusesFor = null;
  expect(await take.handIn()).toMatchObject({ ok: true });
  expect(appended.flatMap(({ events }) => events)).toHaveLength(4);
});
