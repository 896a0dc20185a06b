/** Sounds the keys played on a screen that have no voice of their own. */

import { useEffect, useMemo } from 'react';
import { useProgram } from '../app/program.tsx';
import type { SoundedKeys, Transport } from '../audio/index.ts';
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
  const voices = useMemo(() => openVoices(transport, whose, volumes), [transport, whose, volumes]);
  useEffect(() => voices.close, [voices]);
  return voices.onKey;
}

function openVoices(
  transport: Transport,
  whose: SoundSettings['soundKeys'],
  volumes: SoundSettings['volumes'],
): { readonly onKey: OnKey; readonly close: () => void } {
  /** By keyboard: what one of them lets go of, another may hold. */
  const opened = new Map<string, SoundedKeys>();
  return {
    onKey(key, deviceName) {
      if (!isSounded(deviceName, whose)) return;
      // From the first key on: whoever plays a piano with a voice needs none of it.
      const keys = opened.get(deviceName) ?? transport.soundKeys(volumes);
      opened.set(deviceName, keys);
      keys.key(key);
    },
    close() {
      for (const keys of opened.values()) keys.close();
      opened.clear();
    },
  };
}
