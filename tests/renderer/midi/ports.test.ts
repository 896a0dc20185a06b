/** Keyboards that come and go, under names that are not theirs alone. The MIDI library is stood in for. */

import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { type KeyboardsState, listenToPorts } from '../../../src/renderer/midi/ports.ts';
import type { PlayedKey } from '../../../src/renderer/session/live-take.ts';
import { FakeInput, plugIn, WebMidi } from '../../helpers/fake-webmidi.ts';

vi.mock('webmidi', () => import('../../helpers/fake-webmidi.ts'));

let heard: [PlayedKey, string][];
let states: KeyboardsState[];
let leaving: AbortController;

const kinds = (): readonly (readonly [string, string])[] =>
  heard.map(([{ kind }, name]) => [kind, name]);

async function listen(channelOf: (name: string) => number | null = () => null): Promise<void> {
  await listenToPorts(
    {
      onKey: (key: PlayedKey, name) => void heard.push([key, name]),
      onState: (state) => void states.push(state),
      channelOf,
    },
    leaving.signal,
  );
}

async function ports(...inputs: readonly FakeInput[]): Promise<void> {
  plugIn(...inputs);
  await vi.advanceTimersByTimeAsync(300);
}

beforeEach(() => {
  vi.useFakeTimers();
  vi.stubGlobal('navigator', { requestMIDIAccess: () => {} });
  heard = [];
  states = [];
  leaving = new AbortController();
  plugIn();
});
afterEach(() => {
  leaving.abort();
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

describe('keyboards', () => {
  test('of one name are told apart, and each lets go of its own keys when it is gone', async () => {
    const [left, right] = [new FakeInput('1', 'Piano'), new FakeInput('2', 'Piano')];
    await listen();
    await ports(right, left);
    left.say([0x90, 60, 80]);
    right.say([0x90, 64, 80]);
    expect(kinds()).toEqual([
      ['noteOn', 'Piano'],
      ['noteOn', 'Piano (2)'],
    ]);
    expect(states.at(-1)).toMatchObject({ kind: 'ready', names: ['Piano', 'Piano (2)'] });
    await ports(right);
    right.say([0x80, 64, 0]);
    expect(kinds().slice(2)).toEqual([
      ['allOff', 'Piano'],
      ['noteOff', 'Piano (2)'],
    ]);
    expect(heard[2]?.[0]).toMatchObject({ cause: 'disconnect' });
    expect(states.at(-1)).toMatchObject({ names: ['Piano (2)'] });
  });

  test('that come and go a thousand times are each let go, told once, and heard once at the end', async () => {
    const gone: FakeInput[] = [];
    await listen();
    for (let time = 0; time < 1000; time++) {
      const input = new FakeInput('1', 'Piano');
      gone.push(input);
      await ports(input);
      await ports();
    }
    const offs = kinds().filter(([kind]) => kind === 'allOff');
    expect(offs).toHaveLength(1000);
    expect(new Set(offs.map(([, name]) => name))).toEqual(new Set(['Piano']));
    expect(gone.filter((input) => input.listenerCount('midimessage') > 0)).toEqual([]);
    const last = new FakeInput('1', 'Piano');
    await ports(last);
    last.say([0x90, 60, 80]);
    expect(kinds().filter(([kind]) => kind === 'noteOn')).toHaveLength(1);
    leaving.abort();
    last.say([0x90, 62, 80]);
    expect(kinds().filter(([kind]) => kind === 'noteOn')).toHaveLength(1);
    expect(last.listenerCount('midimessage')).toBe(0);
  });

  test('are not drowned by clock and active sensing, nor by another channel', async () => {
    const input = new FakeInput('1', 'Piano');
    await listen(() => 2);
    await ports(input);
    for (let time = 0; time < 1000; time++) {
      input.say([0xf8]);
      input.say([0xfe]);
      input.say([0x90, 60, 80]);
      input.say([]);
    }
    input.say([0x91, 60, 80]);
    expect(kinds()).toEqual([['noteOn', 'Piano']]);
  });

  test('are each heard on their own channel', async () => {
    const [left, right] = [new FakeInput('1', 'Piano'), new FakeInput('2', 'Piano')];
    await listen((name) => (name === 'Piano (2)' ? 3 : null));
    await ports(left, right);
    for (const input of [left, right]) {
      input.say([0x90, 60, 80]);
      input.say([0x92, 62, 80]);
    }
    expect(heard.map(([key, name]) => [key.kind === 'noteOn' && key.midi, name])).toEqual([
      [60, 'Piano'],
      [62, 'Piano'],
      [62, 'Piano (2)'],
    ]);
  });

  test('have a pedal each, and one that is plugged in again has a fresh one', async () => {
    const [left, right] = [new FakeInput('1', 'Left'), new FakeInput('2', 'Right')];
    await listen();
    await ports(left, right);
    for (const value of [118, 95, 70, 50]) left.say([0xb0, 64, value]);
    right.say([0xb0, 64, 127]);
    await ports(right);
    await ports(left, right);
    left.say([0xb0, 64, 127]);
    expect(kinds()).toEqual([
      ['pedal', 'Left'],
      ['pedal', 'Right'],
      ['allOff', 'Left'],
      ['pedal', 'Left'],
    ]);
  });
});

describe('without MIDI', () => {
  test('a browser that has none, or refuses it, says what to do', async () => {
    const enable = vi.spyOn(WebMidi, 'enable').mockRejectedValueOnce(new Error('denied'));
    await listen();
    enable.mockRestore();
    vi.stubGlobal('navigator', {});
    await listen();
    expect(states.map((state) => state.kind === 'missing' && state.sentence)).toEqual([
      expect.stringContaining('Allow it'),
      expect.stringContaining('Chromium'),
    ]);
  });
});

describe('time stamps', () => {
  test.each([
    ['absent', undefined],
    ['zero', 0],
    ['not a number', Number.NaN],
    ['endless', Number.POSITIVE_INFINITY],
    ['before the page', -500],
    ['ahead', 1e9],
    ['in ms since 1970', 1_700_000_000_000],
    ['from long ago', 12],
  ])('that are %s give way to the time of arrival', async (_words, stamp) => {
    const input = new FakeInput('1', 'Piano');
    await listen();
    await ports(input);
    await vi.advanceTimersByTimeAsync(5000);
    // `say` has a time of its own where none is given.
    input.emit('midimessage', { message: { data: [0x90, 60, 80] }, timestamp: stamp });
    expect(heard.map(([{ atMs }]) => atMs)).toEqual([performance.now()]);
  });

  test('of a port that vanishes lie where it is missed, after all its keys', async () => {
    const input = new FakeInput('1', 'Piano');
    await listen();
    await ports(input);
    await vi.advanceTimersByTimeAsync(5000);
    input.say([0x90, 60, 80], performance.now() - 4);
    await ports();
    const [on, off] = heard.map(([key]) => key.atMs);
    expect(on).toBeLessThan(off ?? 0);
    expect(off).toBeLessThanOrEqual(performance.now());
  });
});
