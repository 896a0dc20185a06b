/** The keys as they are played, made audible: for a keyboard without sound of its own. */

import type { TakeEvent } from '../../core/take/model.ts';
import { loadPiano } from './piano.ts';
import type { Volumes } from './sound-event.ts';
import { createVoices } from './voices.ts';

export interface SoundedKeys {
  key(event: TakeEvent): void;
  close(): void;
}

/** Opens an audio output of its own; it sounds once the page may sound at all. */
export function soundKeys(volumes: Volumes): SoundedKeys {
  void loadPiano();
  const context = new AudioContext({ latencyHint: 'interactive' });
  const voices = createVoices(context, volumes);
  const held = new Map<number, () => void>();

  function letGo(midi: number): void {
    held.get(midi)?.();
    held.delete(midi);
  }

  return {
    key(event) {
      if (context.state === 'suspended') void context.resume();
      if (event.kind === 'noteOn') {
        letGo(event.midi);
        held.set(event.midi, voices.hold(event.midi, event.velocity));
      } else if (event.kind === 'noteOff') letGo(event.midi);
      else if (event.kind === 'allOff') for (const midi of [...held.keys()]) letGo(midi);
    },
    close: () => void context.close(),
  };
}
