/** The keys a screen hears, for as long as it is there. */

import { useEffectEvent, useLayoutEffect, useSyncExternalStore } from 'react';
import { useProgram } from '../app/program.tsx';
import type { OnKey } from './keyboards.ts';
import type { KeyboardsState } from './ports.ts';

/** Tells of each key that is played; answers which keyboards there are, null until that is known. */
export function useKeys(onKey: OnKey): KeyboardsState | null {
  const { keyboards } = useProgram();
  const heard = useEffectEvent(onKey);
  // Before the screen is seen: whoever sees what a key does may press it in that very moment.
  useLayoutEffect(() => {
    const leaving = new AbortController();
    keyboards.onKey((key, deviceName) => heard(key, deviceName), leaving.signal);
    return () => leaving.abort();
  }, [keyboards]);
  return useSyncExternalStore(keyboards.onState, keyboards.state);
}
