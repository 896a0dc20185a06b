/**
 * When the play screen is drawn. A page that draws in every frame has been given its frame already when a key falls, and
 * shows the verdict one frame later; so this one draws only what is new: the line at once when a key falls, the chord and the
 * bar when they begin, the totals with the frame after that or when no key comes for a while.
 */

import { useEffect, useEffectEvent, useState } from 'react';
import { flushSync } from 'react-dom';
import type { Form } from '../../../core/chart/index.ts';
import type { PlayedTake } from '../../run/index.ts';
import type { LiveVerdicts } from '../../session/live-take.ts';
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

/** What is told beside the line by elements of their own, and changes seldom. */
export interface Told extends Pick<LiveVerdicts, 'pickup' | 'journal' | 'disconnected' | 'sound'> {
  readonly chorus: number;
}

function isSameTold(one: Told | null, other: Told): boolean {
  return (
    one?.chorus === other.chorus &&
    one.pickup === other.pickup &&
    one.journal === other.journal &&
    one.disconnected === other.disconnected &&
    one.sound === other.sound
  );
}

/** What puts things on the page within the frame that is to show them. */
export interface Showing {
  readonly line: (verdicts: LiveVerdicts, chorus: number) => void;
  readonly moment: (moment: Moment) => void;
  readonly totals: (verdicts: LiveVerdicts) => void;
}

/** Shows a take under way, and gives what is told of it; null before there is anything. */
export function useShown(
  form: Form,
  played: PlayedTake | null,
  tempoBpm: number,
  show: Showing,
): Told | null {
  const [told, setTold] = useState<Told | null>(null);
  const showLine = useEffectEvent(show.line);
  const showMoment = useEffectEvent(show.moment);
  const showTotals = useEffectEvent(show.totals);
  useEffect(() => {
    if (played === null) return;
    const { take } = played;
    let shown: Moment | null = null;
    let counted: LiveVerdicts | null = null;
    let toldNow: Told | null = null;
    /** A bar or a chord has begun, and the totals have not followed yet. */
    let isOwed = false;
    let dueMs = Number.POSITIVE_INFINITY;
    let frame: number | null = null;
    const momentNow = (): Moment | null => momentAt(form, beatShown(played, tempoBpm));
    const draw = (): void => {
      frame = null;
      const isDue = performance.now() >= dueMs;
      const moment = momentNow();
      if (moment === null) return;
      const verdicts = take.snapshot();
      dueMs = Number.POSITIVE_INFINITY;
      showLine(verdicts, moment.chorus);
      if (!isSameMoment(shown, moment)) {
        // The frame of a new bar or chord has enough to do: the totals come with the next.
        isOwed ||= shown?.bar !== moment.bar || shown.chord !== moment.chord;
        shown = moment;
        showMoment(moment);
      } else if (isDue || isOwed) {
        isOwed = false;
        counted = verdicts;
        showTotals(verdicts);
        const { pickup, journal, disconnected, sound } = verdicts;
        const telling: Told = { chorus: moment.chorus, pickup, journal, disconnected, sound };
        if (!isSameTold(toldNow, telling)) {
          toldNow = telling;
          // Within this very frame: left to itself, React would draw after it, and be seen with the next.
          flushSync(() => setTold(telling));
        }
      }
      // Once the frame is done, and the next key hardly there yet.
      setTimeout(take.shown);
    };
    const ask = (): void => {
      frame ??= requestAnimationFrame(draw);
    };
    const tick = (): void => {
      const nowMs = performance.now();
      take.tick(nowMs);
      const isNew = !isSameMoment(shown, momentNow());
      if (isNew) dueMs = Math.min(dueMs, nowMs + MOMENT_WAITS_MS);
      if (isOwed || counted !== take.snapshot()) dueMs = Math.min(dueMs, nowMs + SETTLED_WAITS_MS);
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
  return told;
}

/** The beat position that is to be seen. */
function beatShown({ performance: { scoreMs } }: PlayedTake, tempoBpm: number): number {
  return ((scoreMs(performance.now()) + MOMENT_EARLY_MS) * tempoBpm) / 60_000;
}
