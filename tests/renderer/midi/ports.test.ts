/** Keyboards that come and go, under names that are not theirs alone. The MIDI library is stood in for. */

import { EventEmitter } from 'node:events';
import { afterEach, beforeEach, describe, expect, test, vi } from 'vitest';
import { type KeyboardsState, listenToKeyboards } from '../../../src/renderer/midi/keyboards.ts';
import type { PlayedKey } from '../../../src/renderer/session/live-take.ts';

const library = vi.hoisted(() => ({ inputs: [] as unknown[], outputs: [] as unknown[] }));

vi.mock('webmidi', async () => {
  const events = new (await import('node:events')).EventEmitter();
  return {
    WebMidi: Object.assign(library, {
      enable: async () => {},
      addListener: (name: string, listener: () => void) => events.on(name, listener),
      removeListener: (name: string, listener: () => void) => events.off(name, listener),
      tell: () => events.emit('portschanged'),
      listeners: () => events.listenerCount('portschanged'),
    }),
  };
});

class FakeInput extends EventEmitter {
  readonly id: string;
  readonly name: string;
  constructor(id: string, name: string) {
    super();
    this.id = id;
    this.name = name;
  }
  say(data: readonly number[], timestamp = 1): void {
    this.emit('midimessage', { message: { data }, timestamp });
  }
}

let heard: [string, string][];
let states: KeyboardsState[];
let leaving: AbortController;

async function listen(channelOf: (name: string) => number | null = () => null): Promise<void> {
  await listenToKeyboards(
    {
      onKey: (key: PlayedKey, name) => void heard.push([key.kind, name]),
      onState: (state) => void states.push(state),
      channelOf,
    },
    leaving.signal,
  );
}

async function ports(...inputs: readonly FakeInput[]): Promise<void> {
  library.inputs = [...inputs];
  await vi.advanceTimersByTimeAsync(300);
}

beforeEach(() => {
  vi.useFakeTimers();
  vi.stubGlobal('navigator', { requestMIDIAccess: () => {} });
  heard = [];
  states = [];
  leaving = new AbortController();
  library.inputs = [];
});
afterEach(() => {
  leaving.abort();
  vi.useRealTimers();
  vi.unstubAllGlobals();
});

describe('keyboards', () => {
  test('of one name are two that are both heard, and are listed once', async () => {
    const [left, right] = [new FakeInput('1', 'Piano'), new FakeInput('2', 'Piano')];
    await listen();
    await ports(left, right);
    left.say([0x90, 60, 80]);
    right.say([0x90, 64, 80]);
    expect(heard).toEqual([
      ['noteOn', 'Piano'],
      ['noteOn', 'Piano'],
    ]);
    expect(states.at(-1)).toMatchObject({ kind: 'ready', names: ['Piano'] });
    // One of the two is gone: what it held is let go, the other plays on.
    await ports(right);
    right.say([0x80, 64, 0]);
    expect(heard.slice(2)).toEqual([
      ['allOff', ''],
      ['noteOff', 'Piano'],
    ]);
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
    expect(heard.filter(([kind]) => kind === 'allOff')).toHaveLength(1000);
    expect(gone.filter((input) => input.listenerCount('midimessage') > 0)).toEqual([]);
    const last = new FakeInput('1', 'Piano');
    await ports(last);
    last.say([0x90, 60, 80]);
    expect(heard.filter(([kind]) => kind === 'noteOn')).toHaveLength(1);
    leaving.abort();
    last.say([0x90, 62, 80]);
    expect(heard.filter(([kind]) => kind === 'noteOn')).toHaveLength(1);
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
    expect(heard).toEqual([['noteOn', 'Piano']]);
  });
});
