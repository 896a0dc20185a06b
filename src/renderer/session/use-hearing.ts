/** Something heard on a screen: started, followed and stopped; it ends with the screen. */

import { useCallback, useEffect, useRef, useState } from 'react';
import { useProgram } from '../app/program.tsx';
import {
  type Performance,
  perform,
  pianoSoon,
  type SoundEvent,
  soundFailureWords,
} from '../audio/index.ts';
import { stageSettings } from './accompaniment.ts';

const FOLLOW_EVERY_MS = 60;

export interface Hearing {
  readonly isPlaying: boolean;
  /** What went wrong with the sound, in words, or null. */
  readonly failure: string | null;
  /** Starts a score, ending what sounded before; `onTime` is told the score's time that is heard, null at its end. */
  hear(score: Iterator<SoundEvent>, onTime?: (timeMs: number | null) => void): Promise<void>;
  stop(): void;
}

interface Running {
  readonly performance: Performance;
  readonly timer: number;
  readonly onTime: (timeMs: number | null) => void;
}

export function useHearing(): Hearing {
  const { settings } = useProgram();
  const [isPlaying, setPlaying] = useState(false);
  const [failure, setFailure] = useState<string | null>(null);
  const running = useRef<Running | null>(null);
  const sound = useRef(settings.sound);
  sound.current = settings.sound;

  const stop = useCallback(() => {
    if (running.current === null) return;
    const { performance, timer, onTime } = running.current;
    running.current = null;
    performance.stop();
    clearInterval(timer);
    setPlaying(false);
    onTime(null);
  }, []);
  useEffect(() => stop, [stop]);

  const hear = useCallback(
    async (score: Iterator<SoundEvent>, onTime: Running['onTime'] = () => {}) => {
      stop();
      try {
        await pianoSoon();
        const settingsNow = { ...stageSettings(sound.current), onEnd: stop };
        const performance = await perform(score, settingsNow);
        stop();
        const timer = window.setInterval(() => {
          onTime(window.performance.now() - performance.downbeatAtMs);
        }, FOLLOW_EVERY_MS);
        running.current = { performance, timer, onTime };
        setPlaying(true);
        setFailure(null);
      } catch (error) {
        setFailure(soundFailureWords(error));
      }
    },
    [stop],
  );
  return { isPlaying, failure, hear, stop };
}
