/** Sounds the keys played on a screen, when the player has asked for it. */

import { useEffect, useRef } from 'react';
import { useProgram } from '../app/program.tsx';
import type { SoundedKeys } from '../audio/index.ts';
import type { PlayedKey } from '../session/live-take.ts';

/** What it answers takes each key. */
export function useSoundedKeys(): (key: PlayedKey) => void {
  const { settings, transport } = useProgram();
  const { soundKeys: isOn, volumes } = settings.sound;
  const sounded = useRef<SoundedKeys | null>(null);
  useEffect(() => {
    if (!isOn) return;
    const keys = transport.soundKeys(volumes);
    sounded.current = keys;
    return () => {
      sounded.current = null;
      keys.close();
    };
  }, [isOn, volumes, transport]);
  return (key) => sounded.current?.key(key);
}
