/**
 * The one owner of sound, on a fake audio context and the test's own time. Its laws: two never sound at once, stopping is
 * silence within 120 ms from any state, sounds stay on the audio clock, and what sound did meanwhile is told as breaks.
 */

import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import {
  createTransport,
  isStopped,
  type MidiSink,
  type Performance,
  type SoundEvent,
  type Transport,
} from '../../../src/renderer/audio/index.ts';
import { FakeAudioContext, fakeAudio } from '../../helpers/fake-audio.ts';

const SETTINGS = { volumes: { click: 1, bass: 1, pad: 1, note: 1 }, midi: null };
const BEAT_MS = 500;
let window: EventTarget;
let activation: { hasBeenActive: boolean };
let transport: Transport;

beforeEach(() => {
  vi.useFakeTimers({ now: 0 });
  fakeAudio.reset();
  window = new EventTarget();
  activation = { hasBeenActive: true };
  vi.stubGlobal('AudioContext', FakeAudioContext);
  vi.stubGlobal('window', window);
  vi.stubGlobal('navigator', { userActivation: activation });
  transport = createTransport();
});
afterEach(() => {
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

const passing = (ms: number) => vi.advanceTimersByTimeAsync(ms);

function* clicks(beats: number, from = -4): Generator<SoundEvent> {
  for (let beat = from; beat < beats; beat++) {
    yield { kind: 'click', atMs: beat * BEAT_MS, strength: 'beat' };
  }
}

/** Starts a score and waits until it has begun. */
async function started(beats = 1000, more: object = {}): Promise<Performance> {
  const playing = transport.play(clicks(beats), { ...SETTINGS, ...more });
  await passing(400);
  return playing;
}

/** What a start came to, without an error that nobody waits for. */
function outcome(playing: Promise<Performance>): Promise<Performance | Error> {
  return playing.catch((error: Error) => error);
}

describe('a performance', () => {
  test('maps page time to the time of the score that is heard, and back', async () => {
    const performed = await started();
    const [first = 0] = fakeAudio.heard();
    const context = fakeAudio.contexts()[0];
    const heardInMs = (first - (context?.currentTime ?? 0)) * 1000 + 20;
    expect(performed.pageMs(-4 * BEAT_MS) - performance.now()).toBeCloseTo(heardInMs, 3);
    expect(performed.scoreMs(performed.pageMs(1234))).toBeCloseTo(1234, 6);
    expect(performed.outputLatencyMs).toBeCloseTo(20, 6);
  });

  test('lays sounds at most 400 ms ahead, each at its time of the audio clock', async () => {
    await started();
    await passing(3000);
    const heard = fakeAudio.heard();
    const [first = 0] = heard;
    heard.forEach((atS, beat) => {
      expect(atS - first).toBeCloseTo((beat * BEAT_MS) / 1000, 3);
    });
    const nowS = fakeAudio.contexts()[0]?.currentTime ?? 0;
    expect(Math.max(...heard)).toBeLessThanOrEqual(nowS + 0.4);
    expect(Math.max(...heard)).toBeGreaterThan(nowS - 0.1);
  });

  test('tells its end when the last sound has been heard, and its clock goes on', async () => {
    const onEnd = vi.fn();
    const performed = await started(2, { onEnd });
    await passing(performed.pageMs(BEAT_MS) - performance.now());
    expect(onEnd).not.toHaveBeenCalled();
    await passing(300);
    expect(onEnd).toHaveBeenCalledOnce();
    expect(performed.over.aborted).toBe(false);
  });

  test('has a clock also where the browser does not tell the time of output', async () => {
    fakeAudio.settings.tellsOutput = false;
    const performed = await started();
    const [first = 0] = fakeAudio.heard();
    const currentMs = (fakeAudio.contexts()[0]?.currentTime ?? 0) * 1000;
    const awaitedMs = performance.now() + first * 1000 - currentMs + 20;
    expect(performed.pageMs(-4 * BEAT_MS)).toBeCloseTo(awaitedMs, 3);
  });
});

describe('silence', () => {
  test('comes within 120 ms, whatever was laid ahead', async () => {
    const performed = await started();
    await passing(2000);
    expect(fakeAudio.isSilent()).toBe(false);
    transport.stop();
    await passing(120);
    expect(fakeAudio.isSilent()).toBe(true);
    expect(performed.over.aborted).toBe(true);
    await passing(5000);
    expect(fakeAudio.isSilent()).toBe(true);
  });

  test.each([0, 5, 14, 60, 200, 264])('comes also %d ms into starting', async (ms) => {
    const leaving = new AbortController();
    const ended = outcome(transport.play(clicks(1000), SETTINGS, leaving.signal));
    await passing(ms);
    leaving.abort();
    await passing(120);
    expect(fakeAudio.isSilent()).toBe(true);
    expect(isStopped(await ended)).toBe(true);
    await passing(5000);
    expect(fakeAudio.isSilent()).toBe(true);
  });

  test('stopping twice, or with nothing played, is nothing', async () => {
    transport.stop();
    const performed = await started();
    performed.stop();
    performed.stop();
    transport.stop();
    await passing(120);
    expect(fakeAudio.isSilent()).toBe(true);
  });

  test('takes nothing from what was stopped before it was asked for', async () => {
    const signal = AbortSignal.abort();
    expect(isStopped(await outcome(transport.play(clicks(4), SETTINGS, signal)))).toBe(true);
    expect(fakeAudio.contexts()).toEqual([]);
  });
});

describe('two never sound at once', () => {
  test('what is played next ends what sounds', async () => {
    const first = await started();
    await passing(1000);
    const second = transport.play(clicks(1000), SETTINGS);
    expect(first.over.aborted).toBe(true);
    await passing(120);
    expect(fakeAudio.isSilent()).toBe(false);
    await passing(1000);
    expect((await second).over.aborted).toBe(false);
    transport.stop();
    await passing(120);
    expect(fakeAudio.isSilent()).toBe(true);
  });

  test.each([0, 10, 40, 200])('also a second start %d ms after the first', async (ms) => {
    const first = outcome(transport.play(clicks(1000), SETTINGS));
    await passing(ms);
    const second = outcome(transport.play(clicks(1000), SETTINGS));
    await passing(1000);
    expect(isStopped(await first)).toBe(true);
    expect(await second).not.toBeInstanceOf(Error);
    transport.stop();
    await passing(120);
    expect(fakeAudio.isSilent()).toBe(true);
    expect(fakeAudio.contexts()).toHaveLength(1);
  });

  test('the player’s own keys sound beside it, and after it', async () => {
    await started();
    const keys = transport.soundKeys(SETTINGS.volumes);
    keys.key({ kind: 'noteOn', atMs: 0, midi: 60, velocity: 80 });
    transport.stop();
    await passing(200);
    expect(fakeAudio.isSilent()).toBe(false);
    keys.close();
    await passing(120);
    expect(fakeAudio.isSilent()).toBe(true);
  });
});

describe('breaks', () => {
  /** Plays on the context while something happens to it, and tells the doubts and breaks that came. */
  async function troubled(trouble: (context: FakeAudioContext) => void) {
    const performed = await started();
    await passing(5000);
    const told: { readonly atMs: number; readonly isDoubted: boolean; readonly breaks: number }[] =
      [];
    const startMs = performance.now();
    const beginMs = performed.scoreMs(startMs);
    performed.onBreak(() => {
      const atMs = performance.now() - startMs;
      told.push({ atMs, isDoubted: performed.isDoubted(), breaks: performed.breaks().length });
    }, performed.over);
    const [context] = fakeAudio.contexts();
    if (context === undefined) throw new Error('no sound');
    trouble(context);
    return { performed, told, beginMs, context };
  }

  /** The score's time that is heard, from the audio clock itself. */
  function truthMs(context: FakeAudioContext): number {
    return (context.currentTime - (fakeAudio.heard()[0] ?? 0)) * 1000 - 20 - 4 * BEAT_MS;
  }

  test('sound that stands still for 300 ms: one, over what was not heard; later times are right', async () => {
    const { performed, told, beginMs, context } = await troubled((stalled) => {
      stalled.stall();
      setTimeout(() => stalled.goOn(), 300);
    });
    await passing(300 + 250);
    expect(told.map(({ isDoubted, breaks }) => [isDoubted, breaks])).toEqual([
      [true, 0],
      [false, 1],
    ]);
    expect(told[0]?.atMs).toBeLessThanOrEqual(150);
    const [{ fromMs, toMs } = { fromMs: 0, toMs: 0 }] = performed.breaks();
    expect(fromMs).toBeLessThanOrEqual(beginMs);
    expect(fromMs).toBeGreaterThan(beginMs - 50);
    // All that the old clock had told of lies in it.
    expect(toMs).toBeGreaterThan(beginMs + 300);
    expect(toMs).toBeLessThan(beginMs + 300 + 250);
    await passing(3000);
    expect(performed.scoreMs(performance.now())).toBeCloseTo(truthMs(context), 1);
    expect(performed.breaks()).toHaveLength(1);
    expect(performed.isDoubted()).toBe(false);
  });

  test('a context that the system suspends is resumed, doubted at once, and a break', async () => {
    const { performed, told, context } = await troubled((suspended) => {
      fakeAudio.settings.mayRun = false;
      void suspended.suspend();
      setTimeout(() => {
        fakeAudio.settings.mayRun = true;
      }, 300);
    });
    await passing(1000);
    expect(context.state).toBe('running');
    expect(told[0]).toMatchObject({ atMs: 0, isDoubted: true });
    expect(told.at(-1)?.atMs).toBeLessThanOrEqual(300 + 15 + 40 + 250);
    expect(performed.breaks()).toHaveLength(1);
    await passing(3000);
    expect(performed.scoreMs(performance.now())).toBeCloseTo(truthMs(context), 1);
  });

  test('another output that is later by 60 ms is a break', async () => {
    const { performed, told } = await troubled(() => {
      fakeAudio.settings.outputLatencyMs = 80;
    });
    const before = performed.pageMs(20_000);
    await passing(250);
    expect(told.map(({ isDoubted }) => isDoubted)).toEqual([true, false]);
    expect(performed.breaks()).toHaveLength(1);
    expect(performed.pageMs(20_000) - before).toBeCloseTo(60, 1);
  });

  test('the score goes on where it stood: no sound is left out', async () => {
    const { context } = await troubled((stalled) => {
      stalled.stall();
      setTimeout(() => stalled.goOn(), 2000);
    });
    await passing(10_000);
    const heard = fakeAudio.heard();
    heard.forEach((atS, beat) => {
      expect(atS - (heard[0] ?? 0)).toBeCloseTo((beat * BEAT_MS) / 1000, 3);
    });
    expect(heard.at(-1)).toBeGreaterThan(context.currentTime - 0.1);
  });

  test('there is none where nothing happened', async () => {
    const { performed, told } = await troubled(() => {});
    await passing(60_000);
    expect(told).toEqual([]);
    expect(performed.breaks()).toEqual([]);
  });
});

describe('an instrument', () => {
  function recorder() {
    const sent: { readonly untilMs: number; readonly pageMs: number; readonly nowMs: number }[] =
      [];
    const taken: SoundEvent[] = [];
    const silenced = vi.fn();
    const midi: MidiSink = {
      looksAheadMs: 6,
      take: (event) => taken.push(event),
      sendUntil(untilMs, pageMsOf) {
        sent.push({ untilMs, pageMs: pageMsOf(untilMs), nowMs: performance.now() });
      },
      silence: silenced,
    };
    return { midi, sent, taken, silenced };
  }

  test('is sent what is due within 100 ms, in the page’s time, and is silenced on Stop', async () => {
    const { midi, sent, taken, silenced } = recorder();
    await started(1000, { midi });
    await passing(3000);
    for (const { pageMs, nowMs } of sent) expect(pageMs - nowMs).toBeLessThanOrEqual(100 + 1e-6);
    expect(taken.length).toBeGreaterThan(5);
    expect(taken.at(-1)?.atMs).toBeLessThan((sent.at(-1)?.untilMs ?? 0) + 6);
    expect(fakeAudio.heard()).toEqual([]);
    transport.stop();
    expect(silenced).toHaveBeenCalledOnce();
  });
});

describe('sound that cannot be had', () => {
  test('is told in words: a device that does not start', async () => {
    fakeAudio.settings.mayRun = false;
    const failed = outcome(transport.play(clicks(4), SETTINGS));
    await passing(10_000);
    expect(String(await failed)).toContain('Check the computer’s sound output');
  });

  test('is told in words: no output at all', async () => {
    vi.stubGlobal(
      'AudioContext',
      class {
        constructor() {
          throw new DOMException('no device', 'NotSupportedError');
        }
      },
    );
    expect(String(await outcome(transport.play(clicks(4), SETTINGS)))).toContain('no device');
  });

  test('because the page was not touched: known before anything is played, over with a touch', async () => {
    activation.hasBeenActive = false;
    fakeAudio.settings.mayRun = false;
    const told: boolean[] = [];
    const listening = new AbortController();
    transport.onState(() => told.push(transport.isWithheld()), listening.signal);
    await passing(1000);
    expect(told).toEqual([true]);
    const playing = transport.play(clicks(1000), SETTINGS);
    await passing(30_000);
    expect(fakeAudio.isSilent()).toBe(true);
    activation.hasBeenActive = true;
    fakeAudio.settings.mayRun = true;
    window.dispatchEvent(new Event('pointerdown'));
    await passing(1000);
    expect(told).toEqual([true, false]);
    expect((await playing).over.aborted).toBe(false);
    expect(fakeAudio.isSilent()).toBe(false);
  });

  test('is had with a touch also after minutes, and rests again when nothing is played', async () => {
    activation.hasBeenActive = false;
    fakeAudio.settings.mayRun = false;
    transport.onState(() => {}, new AbortController().signal);
    await passing(300_000);
    expect(transport.isWithheld()).toBe(true);
    activation.hasBeenActive = true;
    fakeAudio.settings.mayRun = true;
    window.dispatchEvent(new Event('keydown'));
    await passing(1000);
    expect(transport.isWithheld()).toBe(false);
    expect(fakeAudio.contexts()[0]?.state).toBe('running');
    await passing(61_000);
    expect(fakeAudio.contexts()[0]?.state).toBe('suspended');
  });

  test('is nothing that is withheld where there is no output', () => {
    activation.hasBeenActive = false;
    vi.stubGlobal('AudioContext', undefined);
    transport.onState(() => {}, new AbortController().signal);
    expect(transport.isWithheld()).toBe(false);
  });

  test('is not thought so where an untouched page may sound', async () => {
    activation.hasBeenActive = false;
    const told = vi.fn();
    transport.onState(told, new AbortController().signal);
    await passing(5000);
    expect(told).not.toHaveBeenCalled();
    expect(transport.isWithheld()).toBe(false);
  });
});

test('the device is let go after a minute of silence, and is there again for the next score', async () => {
  const first = await started();
  await passing(120_000);
  expect(fakeAudio.contexts()[0]?.state).toBe('running');
  first.stop();
  await passing(61_000);
  expect(fakeAudio.contexts()[0]?.state).toBe('suspended');
  const second = await started();
  await passing(1000);
  expect(second.breaks()).toEqual([]);
  expect(fakeAudio.contexts()).toHaveLength(1);
  expect(fakeAudio.contexts()[0]?.state).toBe('running');
});
