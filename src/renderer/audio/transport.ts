/** The page's one owner of sound: what is played next ends what sounds, so that two never sound at once. */

import { type Performance, type StageSettings, startPerformance } from './performance.ts';
import type { SoundEvent, Volumes } from './sound-event.ts';
import { createSoundOutput } from './sound-output.ts';
import { openSoundedKeys, type SoundedKeys } from './sounded-keys.ts';
import { isStopped, soundFailureWords, stoppedError } from './stopped.ts';

export interface Transport {
  /**
   * Silences what sounds, then starts the score. Rejects with an error in words when sound cannot be had, and with one
   * that `isStopped` when it was stopped while starting. Where the browser withholds sound it starts with a touch.
   */
  play(
    score: Iterator<SoundEvent>,
    settings: StageSettings,
    signal?: AbortSignal,
  ): Promise<Performance>;
  /** Silence, from any state: what sounds and what is starting. The player's own keys sound on. */
  stop(): void;
  /** Whether the browser withholds sound until the page is touched. Known soon after somebody listens for it. */
  isWithheld(): boolean;
  /** Calls back when `isWithheld` has changed. */
  onState(listener: () => void, signal: AbortSignal): void;
  /** Sounds the player's own keys, beside whatever is played. */
  soundKeys(volumes: Volumes): SoundedKeys;
}

export function createTransport(): Transport {
  const output = createSoundOutput();
  let present: AbortController | null = null;

  function stop(): void {
    present?.abort();
    present = null;
  }

  return {
    stop,
    async play(score, settings, signal) {
      stop();
      if (signal?.aborted) throw stoppedError();
      const own = new AbortController();
      present = own;
      signal?.addEventListener('abort', () => own.abort(), { signal: own.signal });
      const leave = output.use();
      own.signal.addEventListener('abort', leave);
      try {
        const context = await output.running(own.signal);
        return await startPerformance(context, score, settings, own);
      } catch (error) {
        own.abort();
        throw isStopped(error) ? error : new Error(soundFailureWords(error));
      }
    },
    isWithheld: output.isWithheld,
    onState: output.onState,
    soundKeys: (volumes) => openSoundedKeys(output, volumes),
  };
}
