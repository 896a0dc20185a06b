/** Something heard on a screen: started, followed and stopped; it ends with the screen. */

import { useCallback, useEffect, useRef, useState } from 'react';
import { useProgram } from '../app/program.tsx';
import { isStopped, pianoSoon, type SoundEvent } from '../audio/index.ts';
import { stageSettings } from './accompaniment.ts';

const FOLLOW_EVERY_MS = 60;

export interface Hearing {
  /** From the moment it is asked for. */
  readonly isPlaying: boolean;
  /** What went wrong with the sound, in words, or null. */
  readonly failure: string | null;
  /** Starts a score, ending what sounded before; `onTime` is told the score's time that is heard, null at its end. */
  hear(score: Iterator<SoundEvent>, onTime?: (timeMs: number | null) => void): Promise<void>;
  stop(): void;
}

export function useHearing(): Hearing {
  const { settings, transport } = useProgram();
  const [isPlaying, setPlaying] = useState(false);
  const [failure, setFailure] = useState<string | null>(null);
  const present = useRef<AbortController | null>(null);
  const { sound } = settings;

  const stop = useCallback(() => present.current?.abort(), []);
  useEffect(() => stop, [stop]);

  const hear = useCallback(
    async (
      score: Iterator<SoundEvent>,
      onTime: (timeMs: number | null) => void = () => {},
    ): Promise<void> => {
      stop();
      const own = new AbortController();
      present.current = own;
      own.signal.addEventListener('abort', () => {
        if (present.current !== own) return;
        present.current = null;
        setPlaying(false);
      });
      setPlaying(true);
      setFailure(null);
      try {
        await pianoSoon();
        const stage = { ...stageSettings(sound), onEnd: () => own.abort() };
        const { over, scoreMs } = await transport.play(score, stage, own.signal);
        const timer = setInterval(() => onTime(scoreMs(performance.now())), FOLLOW_EVERY_MS);
        over.addEventListener('abort', () => {
          clearInterval(timer);
          onTime(null);
          own.abort();
        });
      } catch (error) {
        own.abort();
        if (!isStopped(error)) setFailure(error instanceof Error ? error.message : String(error));
      }
    },
    [sound, stop, transport],
  );
  return { isPlaying, failure, hear, stop };
}
