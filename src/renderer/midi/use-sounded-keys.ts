/** Sounds the keys played on a screen that have no voice of their own. */

import { useEffect, useRef } from 'react';
import { useProgram } from '../app/program.tsx';
import type { SoundedKeys } from '../audio/index.ts';
import { COMPUTER_KEYS } from '../settings/devices.ts';
import type { SoundSettings } from '../settings/player-settings.ts';
import type { OnKey } from './keyboards.ts';

/** Whether the computer sounds the keys of a keyboard. */
export function isSounded(deviceName: string, whose: SoundSettings['soundKeys']): boolean {
  return whose === 'all' || (whose === 'computerKeys' && deviceName === COMPUTER_KEYS);
}

/** What it answers takes each key. */
export function useSoundedKeys(): OnKey {
  const { settings, transport } = useProgram();
  const { soundKeys: whose, volumes } = settings.sound;
  /** By keyboard: what one of them lets go of, another may hold. */
  const sounded = useRef(new Map<string, SoundedKeys>());
  // biome-ignore lint/correctness/useExhaustiveDependencies: other settings want other voices
  useEffect(() => {
    const opened = sounded.current;
    return () => {
      for (const keys of opened.values()) keys.close();
      opened.clear();
    };
  }, [whose, volumes]);
  return (key, deviceName) => {
    if (!isSounded(deviceName, whose)) return;
    // From the first key on: whoever plays a piano with a voice needs none of it.
    const keys = sounded.current.get(deviceName) ?? transport.soundKeys(volumes);
    sounded.current.set(deviceName, keys);
    keys.key(key);
  };
}
