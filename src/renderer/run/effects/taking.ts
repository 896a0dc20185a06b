/** A take: begun at the host, sounded, watched for its end; when it is stopped nothing sounds or records any more. */

import { fromCallback } from 'xstate';
import { createBeatClock } from '../../../core/grid/index.ts';
import { refusalWords } from '../../app/refusal-words.ts';
import type { Performance } from '../../audio/index.ts';
import type { RunWish } from '../../prepare/run-wish.ts';
import { accompaniment, stageSettings } from '../../session/accompaniment.ts';
import { type LiveTake, startLiveTake } from '../../session/live-take.ts';
import { type RunEvent, type TakeInput, wordsOf } from '../machine.ts';
import { keepAwake } from '../wake-lock.ts';
import { practiceOf, type RunMeans } from './means.ts';
import { takeSetUp } from './take-set-up.ts';
import { afterChorus, afterPlannedEnd, takeSpan } from './what-follows.ts';

/** How often a take is looked at for its end, or for that of a chorus. Not every frame: a key may need that at once. */
const WATCH_MS = 50;

/** A take under way and what it is played to. */
export interface PlayedTake {
  readonly take: LiveTake;
  readonly performance: Performance;
}

/** Where the take under way is found, and those that are ended wait for being handed in. */
export interface TakeDesk {
  open(played: PlayedTake): void;
  close(takeId: string, endMs: number): void;
}

export function taking(wish: RunWish, means: RunMeans, desk: TakeDesk) {
  const { bridge, transport, sound, seed } = means;
  const setBpm = practiceOf(wish).tempoBpm;
  return fromCallback<RunEvent, TakeInput, RunEvent>(
    ({ input: { practice, example }, sendBack }) => {
      const leaving = new AbortController();
      const { signal } = leaving;
      let close = (): void => {};
      keepAwake(signal);
      begin().catch((error: unknown) => {
        if (!signal.aborted) sendBack({ type: 'FAILED', sentence: wordsOf(error) });
      });
      return () => {
        leaving.abort();
        close();
      };

      async function begin(): Promise<void> {
        const { form } = practice;
        const settings = sound();
        const setUp = takeSetUp(practice, example, wish.heard);
        const begun = await bridge.ask('takes.begin', { setUp, sources: [] });
        if (!begun.ok) {
          return sendBack({ type: 'FAILED', sentence: refusalWords(begun.refusal) });
        }
        const { takeId } = begun.value;
        let performance: Performance;
        try {
          signal.throwIfAborted();
          const score = accompaniment(form, setUp.grade, settings);
          performance = await transport.play(score, stageSettings(settings), signal);
          signal.throwIfAborted();
        } catch (error) {
          // Nothing was played to it, so that it is not kept.
          void bridge.ask('takes.finish', { takeId, endMs: 0 });
          throw error;
        }
        const take = startLiveTake(bridge, takeId, form, setUp, means.sourceFor, performance);
        desk.open({ take, performance });
        const unwatch = watch(take, performance);
        close = () => {
          unwatch();
          const nowMs = window.performance.now();
          performance.stop();
          desk.close(takeId, nowMs);
          const fromMs = performance.pageMs(0);
          means.notePlaying({ fromMs, toMs: Math.max(fromMs, nowMs) });
        };
        sendBack({ type: 'BEGUN', takeId });
      }

      /** Tells the beats, the end, and in endless play the choruses after which the tempo is to follow. */
      function watch(take: LiveTake, performance: Performance): () => void {
        const { form, tempoBpm } = practice;
        const clock = createBeatClock(form, { kind: 'steady', tempoBpm });
        const span = takeSpan(practice);
        let chorusesDone = 0;
        let told = Number.NEGATIVE_INFINITY;
        const look = (): void => {
          const pageMs = window.performance.now();
          const nowMs = performance.scoreMs(pageMs);
          const beat = Math.floor(clock.beatAt(nowMs));
          if (beat > told) sendBack({ type: 'BEAT', beat });
          told = Math.max(told, beat);
          const endMs = span.endMs(take.latencyMs());
          if (endMs !== null && nowMs > endMs) {
            const next = afterPlannedEnd(practice, wish.setUp.key, wish, seed);
            sendBack({ type: 'OVER', next });
          } else if (wish.nudge && endMs === null && nowMs > span.chorusEndMs(chorusesDone + 1)) {
            chorusesDone++;
            const next = afterChorus(practice, take.reportSoFar(pageMs), setBpm);
            if (next !== null) sendBack({ type: 'OVER', next });
          }
        };
        const timer = setInterval(look, WATCH_MS);
        return () => clearInterval(timer);
      }
    },
  );
}
