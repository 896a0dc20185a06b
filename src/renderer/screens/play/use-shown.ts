/**
 * When the play screen is drawn. A page that draws in every frame has been given its frame already when a key falls, and
 * shows the verdict one frame later; so this one draws only what is new: the line at once when a key falls, the words
 * around it when a chord or a bar begins or no key comes for a while.
 */

import { useEffect, useRef, useState } from 'react';
import { flushSync } from 'react-dom';
import type { Form } from '../../../core/chart/index.ts';
import type { LiveVerdicts } from '../../session/live-take.ts';
import type { PlayedTake } from '../../session/start-playing.ts';
import { isSameMoment, type Moment, momentAt } from './moment.ts';

/** How often the take is told the time and the moment is looked at. */
const TICK_MS = 10;

/**
 * A chord, or a bar, is shown with the key that is played with it: from so much before its time on, and without a key so much
 * later. Seen up to 45 ms after it is heard it still seems to come with its beat. Source, from memory: Recommendation ITU-R
 * BT.1359, where sound is noticed to be ahead of its picture.
 */
const MOMENT_EARLY_MS = 25;
const MOMENT_WAITS_MS = 60;

/** How long a settled verdict may wait: it mostly confirms what is drawn. */
const SETTLED_WAITS_MS = 100;

/** What stands around the line. */
export interface Shown {
  readonly moment: Moment | null;
  readonly verdicts: LiveVerdicts | null;
}

/** What is shown of a take under way. `drawLine` is called in the frame that is to show the verdicts it is given. */
export function useShown(
  form: Form,
  played: PlayedTake | null,
  tempoBpm: number,
  drawLine: (verdicts: LiveVerdicts, chorus: number) => void,
): Shown {
  const [shown, setShown] = useState<Shown | null>(null);
  const latest = useRef(drawLine);
  latest.current = drawLine;
  useEffect(() => {
    if (played === null) return;
    const { take } = played;
    let around: Shown = { moment: null, verdicts: null };
    let dueMs = Number.POSITIVE_INFINITY;
    let frame: number | null = null;
    const momentNow = (): Moment | null => momentAt(form, beatShown(played, tempoBpm));
    const draw = (): void => {
      frame = null;
      const isDue = performance.now() >= dueMs;
      const moment = momentNow();
      const isNew = isDue || !isSameMoment(around.moment, moment);
      const verdicts = take.snapshot();
      if (isNew) around = { moment, verdicts };
      dueMs = Number.POSITIVE_INFINITY;
      if (moment !== null) latest.current(verdicts, moment.chorus);
      // Within this very frame: left to itself, React would draw after it, and be seen with the next.
      if (isNew) flushSync(() => setShown(around));
      // Once the frame is done, and the next key hardly there yet.
      setTimeout(take.shown);
    };
    const ask = (): void => {
      frame ??= requestAnimationFrame(draw);
    };
    const tick = (): void => {
      const nowMs = performance.now();
      take.tick(nowMs);
      const isNew = !isSameMoment(around.moment, momentNow());
      if (isNew) dueMs = Math.min(dueMs, nowMs + MOMENT_WAITS_MS);
      if (around.verdicts !== take.snapshot()) dueMs = Math.min(dueMs, nowMs + SETTLED_WAITS_MS);
      if (nowMs >= dueMs) ask();
    };
    const ignore = take.whenHeard(ask);
    const timer = setInterval(tick, TICK_MS);
    ask();
    return () => {
      ignore();
      clearInterval(timer);
      if (frame !== null) cancelAnimationFrame(frame);
    };
  }, [form, played, tempoBpm]);
  return played === null || shown === null
    ? { moment: momentAt(form, null), verdicts: null }
    : shown;
}

/** The beat position that is to be seen. */
function beatShown({ performance: { downbeatAtMs } }: PlayedTake, tempoBpm: number): number {
  return ((performance.now() + MOMENT_EARLY_MS - downbeatAtMs) * tempoBpm) / 60_000;
}
