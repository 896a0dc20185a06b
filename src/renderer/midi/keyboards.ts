/** Keyboards on MIDI ports, through `webmidi`: found by themselves, heard all at once, missed when they vanish. */

import { type Input, type MessageEvent, WebMidi } from 'webmidi';
import type { PlayedKey } from '../session/live-take.ts';
import { readMessage } from './read-message.ts';

export type KeyboardsState =
  | { readonly kind: 'ready'; readonly names: readonly string[] }
  /** MIDI cannot be had; the sentence says why and what to do. */
  | { readonly kind: 'missing'; readonly sentence: string };

/** Listens to every port until the signal is aborted; ports may come and go. */
export async function listenToKeyboards(
  onKey: (key: PlayedKey) => void,
  onState: (state: KeyboardsState) => void,
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
  const heard = new Set<string>();

  function attach(input: Input): void {
    if (heard.has(input.id)) return;
    heard.add(input.id);
    const listener = (event: MessageEvent): void => {
      const key = readMessage(event.message.data, event.timestamp);
      if (key !== null && !signal.aborted) onKey(key);
    };
    input.addListener('midimessage', listener);
    signal.addEventListener('abort', () => input.removeListener('midimessage', listener));
  }

  function update(): void {
    if (signal.aborted) return;
    const present = new Set(WebMidi.inputs.map(({ id }) => id));
    for (const id of heard) {
      if (present.has(id)) continue;
      heard.delete(id);
      onKey({ kind: 'allOff', atMs: performance.now(), cause: 'disconnect' });
    }
    for (const input of WebMidi.inputs) attach(input);
    onState({ kind: 'ready', names: WebMidi.inputs.map(({ name }) => name) });
  }

  WebMidi.addListener('portschanged', update);
  signal.addEventListener('abort', () => WebMidi.removeListener('portschanged', update));
  update();
}
