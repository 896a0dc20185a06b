/** Keyboards on MIDI ports, through `webmidi`: found by themselves, heard all at once, missed when they vanish. */

import type { Input, MessageEvent } from 'webmidi';
import { createKeyReader, type KeyReader } from '../../core/take/key-message.ts';
import type { PlayedKey } from '../session/live-take.ts';
import { createPortNames } from './port-names.ts';
import { createPortTime, type PageMoment } from './port-time.ts';

export type KeyboardsState =
  | {
      readonly kind: 'ready';
      /** In order of the alphabet, no two alike. */
      readonly names: readonly string[];
      readonly outputs: readonly string[];
    }
  /** MIDI cannot be had; the sentence says why and what to do. */
  | { readonly kind: 'missing'; readonly sentence: string };

export interface PortListeners {
  /** A key at its time on the page's clock, and the keyboard it came from. */
  onKey(key: PlayedKey, deviceName: string): void;
  onState(state: KeyboardsState): void;
  /** The one channel (1–16) that is heard of a device, or null for all. */
  channelOf(deviceName: string): number | null;
}

/** What is known of a port while it is plugged in. */
interface Port {
  readonly name: string;
  readonly readKey: KeyReader;
  readonly timeOf: (stampMs: number | undefined, moment: PageMoment) => number;
}

const LOOK_AGAIN_MS = 250;

/** Listens to every port until the signal is aborted; ports may come and go. */
export async function listenToPorts(
  { onKey, onState, channelOf }: PortListeners,
  signal: AbortSignal,
): Promise<void> {
  if (!('requestMIDIAccess' in navigator)) {
    const sentence =
      'This browser has no MIDI. Use a Chromium-based one, or play the computer keys.';
    return onState({ kind: 'missing', sentence });
  }
  // Only now: the first screen has no need of it.
  const library = await import('webmidi').catch(() => null);
  if (library === null) {
    const sentence =
      'MIDI could not be loaded: the host of this page is not there. Load the page again once it is, or play the computer keys.';
    return onState({ kind: 'missing', sentence });
  }
  const { WebMidi } = library;
  try {
    await WebMidi.enable({ sysex: false });
  } catch {
    const sentence =
      'The browser was not allowed to use MIDI. Allow it in the page’s settings and come back here, or play the computer keys.';
    return onState({ kind: 'missing', sentence });
  }
  const nameOf = createPortNames();
  const ports = new Map<string, Port>();
  // By object, not by id: while ports are opening, `webmidi` may put a second object in place of the first.
  const attached = new Map<Input, (event: MessageEvent) => void>();
  let told: string | null = null;
  // The last two looks at the ports. After the page was held up the next look may come before the keys that waited.
  let aliveMs = performance.now();
  let lookedMs = aliveMs;

  const moment = (): PageMoment => ({ nowMs: performance.now(), aliveMs });

  function attach(input: Input): void {
    if (attached.has(input)) return;
    const listener = (event: MessageEvent): void => {
      const port = ports.get(input.id);
      if (signal.aborted || port === undefined) return;
      const [status = 0, data1 = 0, data2 = 0] = event.message.data;
      const channel = channelOf(port.name);
      if (channel !== null && (status & 15) + 1 !== channel) return;
      const key = port.readKey(status, data1, data2, 0);
      if (key === null) return;
      onKey({ ...key, atMs: port.timeOf(event.timestamp, moment()) }, port.name);
    };
    attached.set(input, listener);
    input.addListener('midimessage', listener);
  }

  function detach(input: Input, listener: (event: MessageEvent) => void): void {
    attached.delete(input);
    input.removeListener('midimessage', listener);
  }

  /** A port that is gone lets go of what it held: its own keys and no other's. */
  function forget(id: string, { name, timeOf }: Port): void {
    ports.delete(id);
    onKey({ kind: 'allOff', atMs: timeOf(undefined, moment()), cause: 'disconnect' }, name);
  }

  function update(): void {
    if (signal.aborted) return;
    aliveMs = lookedMs;
    lookedMs = performance.now();
    const names = nameOf(WebMidi.inputs);
    for (const [id, port] of [...ports]) if (!names.has(id)) forget(id, port);
    for (const [id, name] of names) {
      if (!ports.has(id))
        ports.set(id, { name, readKey: createKeyReader(), timeOf: createPortTime() });
    }
    // A loose contact makes a new object each time; those that are gone are let go.
    for (const [input, listener] of attached) {
      if (!WebMidi.inputs.includes(input)) detach(input, listener);
    }
    for (const input of WebMidi.inputs) attach(input);
    const outputs = [...new Set(WebMidi.outputs.map(({ name }) => name))];
    const state: KeyboardsState = { kind: 'ready', names: [...names.values()].sort(), outputs };
    const news = JSON.stringify(state);
    if (told === news) return;
    told = news;
    onState(state);
  }

  WebMidi.addListener('portschanged', update);
  // The second object comes after the last event that would tell of it, so the ports are looked at again and again.
  const timer = setInterval(update, LOOK_AGAIN_MS);
  signal.addEventListener('abort', () => {
    clearInterval(timer);
    WebMidi.removeListener('portschanged', update);
    for (const [input, listener] of attached) detach(input, listener);
  });
  update();
}
