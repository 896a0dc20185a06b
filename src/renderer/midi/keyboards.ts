/**
 * All keys that the page hears: MIDI keyboards and the computer's own. They are listened to once, from the first time a
 * screen asks for keys; screens come and go, and a port, its name and its pedal stay what they are.
 */

import type { PlayedKey } from '../session/live-take.ts';
import { COMPUTER_KEYS } from '../settings/devices.ts';
import { listenToComputerKeys } from './computer-keys.ts';
import { type KeyboardsState, listenToPorts } from './ports.ts';

export type OnKey = (key: PlayedKey, deviceName: string) => void;

export interface Keyboards {
  /** Tells of each key until the signal is aborted; asks for the ports anew where they could not be had. */
  onKey(listener: OnKey, signal: AbortSignal): void;
  /** Null until the ports are known. The same object until something changes. */
  state(): KeyboardsState | null;
  /** Tells that the state has changed, until what it answers is called. */
  onState(listener: () => void): () => void;
}

/**
 * The keyboards of the page, until the signal is aborted. `channelOf` names the one channel (1–16) that is heard of a
 * device, or null.
 */
export function createKeyboards(
  channelOf: (deviceName: string) => number | null,
  signal: AbortSignal,
): Keyboards {
  const keyListeners = new Set<OnKey>();
  const stateListeners = new Set<() => void>();
  let state: KeyboardsState | null = null;
  let isStarted = false;

  const onKey: OnKey = (key, deviceName) => {
    for (const listener of keyListeners) listener(key, deviceName);
  };
  const onState = (next: KeyboardsState): void => {
    state = next;
    for (const listener of stateListeners) listener();
  };

  function start(): void {
    if (!isStarted) listenToComputerKeys(window, (key) => onKey(key, COMPUTER_KEYS), signal);
    // What was refused may be allowed by now.
    if (!isStarted || state?.kind === 'missing') {
      void listenToPorts({ onKey, onState, channelOf }, signal);
    }
    isStarted = true;
  }

  return {
    onKey(listener, leaving) {
      if (leaving.aborted) return;
      keyListeners.add(listener);
      leaving.addEventListener('abort', () => keyListeners.delete(listener), { once: true });
      start();
    },
    state: () => state,
    onState(listener) {
      stateListeners.add(listener);
      return () => stateListeners.delete(listener);
    },
  };
}
