/** The keys a screen hears, for as long as it is there. */

import { useEffect, useRef, useSyncExternalStore } from 'react';
import { useProgram } from '../app/program.tsx';
import { COMPUTER_KEYS } from '../settings/devices.ts';
import type { OnKey } from './keyboards.ts';
import type { KeyboardsState } from './ports.ts';

/** Tells of each key that is played; answers which keyboards there are, null until that is known. */
export function useKeys(onKey: OnKey): KeyboardsState | null {
  const { keyboards } = useProgram();
  const latest = useRef(onKey);
  latest.current = onKey;
  useEffect(() => {
    const leaving = new AbortController();
    keyboards.onKey((key, deviceName) => latest.current(key, deviceName), leaving.signal);
    return () => leaving.abort();
  }, [keyboards]);
  return useSyncExternalStore(keyboards.onState, keyboards.state);
}

/** The keyboard whose settings a take is played with: the one last heard, else the first there is. */
export function playedDevice(state: KeyboardsState | null, lastHeard: string | null): string {
  const names = state?.kind === 'ready' ? state.names : [];
  return lastHeard ?? names[0] ?? COMPUTER_KEYS;
}
