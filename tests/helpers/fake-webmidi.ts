/** A stand-in for the MIDI library, for `vi.mock('webmidi', …)`: ports that are plugged in and out, and say what they are told to. */

import { EventEmitter } from 'node:events';

export class FakeInput extends EventEmitter {
  readonly id: string;
  readonly name: string;
  constructor(id: string, name: string) {
    super();
    this.id = id;
    this.name = name;
  }
  say(data: readonly number[], timestamp: number | undefined = performance.now()): void {
    this.emit('midimessage', { message: { data }, timestamp });
  }
}

const events = new EventEmitter();

export const WebMidi = {
  inputs: [] as FakeInput[],
  outputs: [] as { readonly name: string }[],
  enabled: 0,
  async enable(): Promise<void> {
    WebMidi.enabled++;
  },
  addListener: (name: string, listener: () => void) => events.on(name, listener),
  removeListener: (name: string, listener: () => void) => events.off(name, listener),
};

/** What is plugged in from now on. */
export function plugIn(...inputs: readonly FakeInput[]): void {
  WebMidi.inputs = [...inputs];
  events.emit('portschanged');
}

export function portListeners(): number {
  return events.listenerCount('portschanged');
}
