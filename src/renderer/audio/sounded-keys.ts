/** The keys as they are played, made audible: for a keyboard without sound of its own. */

import type { TakeEvent } from '../../core/take/model.ts';
import { openMaster } from './master.ts';
import { loadPiano } from './piano.ts';
import type { Volumes } from './sound-event.ts';
import type { SoundOutput } from './sound-output.ts';
import { createVoices } from './voices.ts';

export interface SoundedKeys {
  key(event: TakeEvent): void;
  close(): void;
}

/** Opens a way out of its own on the page's output; it sounds once the page may sound at all. */
export function openSoundedKeys(output: SoundOutput, volumes: Volumes): SoundedKeys {
  void loadPiano();
  const leave = output.use();
  const context = output.context();
  const master = openMaster(context);
  const voices = createVoices(context, volumes, master.input);
  const held = new Map<number, () => void>();

  function letGo(midi: number): void {
    held.get(midi)?.();
    held.delete(midi);
  }

  return {
    key(event) {
      if (context.state !== 'running') output.context();
      if (event.kind === 'noteOn') {
        letGo(event.midi);
        held.set(event.midi, voices.hold(event.midi, event.velocity));
      } else if (event.kind === 'noteOff') letGo(event.midi);
      else if (event.kind === 'allOff') for (const midi of [...held.keys()]) letGo(midi);
    },
    close() {
      master.shut();
      leave();
    },
  };
}
