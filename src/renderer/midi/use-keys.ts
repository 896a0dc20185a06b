/** All keys a screen hears: MIDI keyboards and the computer's own, for as long as the screen is there. */

import { useEffect, useRef, useState } from 'react';
import { useProgram } from '../app/program.tsx';
import type { PlayedKey } from '../session/live-take.ts';
import { COMPUTER_KEYS, deviceFor } from '../settings/devices.ts';
import { listenToComputerKeys } from './computer-keys.ts';
import { type KeyboardsState, listenToKeyboards } from './keyboards.ts';

/** Null until the ports are known. */
export function useKeys(
  onKey: (key: PlayedKey, deviceName: string) => void,
): KeyboardsState | null {
  const { devices, settings } = useProgram();
  const [state, setState] = useState<KeyboardsState | null>(null);
  const latest = useRef({ onKey, devices, output: settings.sound.midiOutput });
  latest.current = { onKey, devices, output: settings.sound.midiOutput };
  useEffect(() => {
    const leaving = new AbortController();
    const listeners = {
      onKey: (key: PlayedKey, deviceName: string) => latest.current.onKey(key, deviceName),
      onState: setState,
      channelOf: (deviceName: string) =>
        deviceFor(latest.current.devices, deviceName, latest.current.output).channel,
    };
    listenToComputerKeys(window, (key) => listeners.onKey(key, COMPUTER_KEYS), leaving.signal);
    void listenToKeyboards(listeners, leaving.signal);
    return () => leaving.abort();
  }, []);
  return state;
}

/** The keyboard whose settings a take is played with: the one last heard, else the first there is. */
export function playedDevice(state: KeyboardsState | null, lastHeard: string | null): string {
  const names = state?.kind === 'ready' ? state.names : [];
  return lastHeard ?? names[0] ?? COMPUTER_KEYS;
}
