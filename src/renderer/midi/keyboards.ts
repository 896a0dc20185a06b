/** Keyboards on MIDI ports, through `webmidi`: found by themselves, heard all at once, missed when they vanish. */

import { type Input, type MessageEvent, WebMidi } from 'webmidi';
import { readKeyMessage } from '../../core/take/key-message.ts';
import type { PlayedKey } from '../session/live-take.ts';

export type KeyboardsState =
  | {
      readonly kind: 'ready';
      readonly names: readonly string[];
      readonly outputs: readonly string[];
    }
  /** MIDI cannot be had; the sentence says why and what to do. */
  | { readonly kind: 'missing'; readonly sentence: string };

export interface KeyboardListeners {
  /** A key, and the name of the port it came from. */
  onKey(key: PlayedKey, deviceName: string): void;
  onState(state: KeyboardsState): void;
  /** The one channel (1–16) that is heard of a device, or null for all. */
  channelOf(deviceName: string): number | null;
}

const LOOK_AGAIN_MS = 250;
/** A disconnect has no port any more. */
const NO_DEVICE = '';

/** Listens to every port until the signal is aborted; ports may come and go. */
export async function listenToKeyboards(
  { onKey, onState, channelOf }: KeyboardListeners,
  signal: AbortSignal,
): Promise<void> {
  if (!('requestMIDIAccess' in navigator)) {
    const sentence =
      'This browser has no MIDI. Use a Chromium-based one, or play the computer keys.';
    return onState({ kind: 'missing', sentence });
  }
  try {
    await WebMidi.enable({ sysex: false });
  } catch {
    const sentence =
      'The browser was not allowed to use MIDI. Allow it in the page’s settings and come back here, or play the computer keys.';
    return onState({ kind: 'missing', sentence });
  }
  // By object, not by id: while ports are opening, `webmidi` may put a second object in place of the first.
  const attached = new Map<Input, (event: MessageEvent) => void>();
  let present = new Set<string>();
  let told: string | null = null;

  function attach(input: Input): void {
    if (attached.has(input)) return;
    const listener = (event: MessageEvent): void => {
      const [status = 0, data1 = 0, data2 = 0] = event.message.data;
      const channel = channelOf(input.name);
      if (signal.aborted || (channel !== null && (status & 15) + 1 !== channel)) return;
      const key = readKeyMessage(status, data1, data2, event.timestamp);
      if (key !== null) onKey(key, input.name);
    };
    attached.set(input, listener);
    input.addListener('midimessage', listener);
  }

  function detach(input: Input, listener: (event: MessageEvent) => void): void {
    attached.delete(input);
    input.removeListener('midimessage', listener);
  }

  function update(): void {
    if (signal.aborted) return;
    const found = new Set(WebMidi.inputs.map(({ id }) => id));
    const isLost = [...present].some((id) => !found.has(id));
    present = found;
    if (isLost) onKey({ kind: 'allOff', atMs: performance.now(), cause: 'disconnect' }, NO_DEVICE);
    // A loose contact makes a new object each time; those that are gone are let go.
    for (const [input, listener] of attached) {
      if (!WebMidi.inputs.includes(input)) detach(input, listener);
    }
    for (const input of WebMidi.inputs) attach(input);
    const names = [...new Set(WebMidi.inputs.map(({ name }) => name))];
    const outputs = [...new Set(WebMidi.outputs.map(({ name }) => name))];
    const news = JSON.stringify([names, outputs]);
    if (told === news) return;
    told = news;
    onState({ kind: 'ready', names, outputs });
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
