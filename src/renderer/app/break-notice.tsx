/** Calls for a break when one is due: between takes, and within a long one. */

import { useSyncExternalStore } from 'react';
import { breakWords } from '../session/playing-time.ts';
import { useProgram } from './program.tsx';

const LOOK_EVERY_MS = 5_000;

function lookNowAndThen(look: () => void): () => void {
  const timer = setInterval(look, LOOK_EVERY_MS);
  return () => clearInterval(timer);
}

interface BreakNoticeProps {
  /** Since when a take is being played, on the page's performance clock; null when none is. */
  readonly playingSinceMs: number | null;
}

export function BreakNotice({ playingSinceMs }: BreakNoticeProps) {
  const { minutesPlayed, settings } = useProgram();
  const words = useSyncExternalStore(lookNowAndThen, () =>
    breakWords(minutesPlayed(playingSinceMs), settings.breakEveryMinutes),
  );
  return words === null ? null : (
    <p className="notice" role="status">
      {words}
    </p>
  );
}
