/** A run with its effects filled in: what the screen draws and what the keys of a piano reach. Knows no React. */

import { type ActorRefFrom, createActor } from 'xstate';
import type { Performance } from '../audio/index.ts';
import type { RunWish } from '../prepare/run-wish.ts';
import type { PlayedKey } from '../session/live-take.ts';
import { hearing, preparing } from './effects/examples.ts';
import { type EndedTake, handingIn } from './effects/handing-in.ts';
import { practiceOf, type RunMeans } from './effects/means.ts';
import { type PlayedTake, taking } from './effects/taking.ts';
import { runMachine } from './machine.ts';
import { isSignal } from './start-signal.ts';

export interface Run {
  readonly actor: ActorRefFrom<typeof runMachine>;
  /** The take under way; null while none is. */
  played(): PlayedTake | null;
  /** The example that is heard; null while none is. */
  heard(): Performance | null;
  /** A key as it is played; false when it was the player's signal, and no note. */
  key(key: PlayedKey, deviceName: string): boolean;
}

/** Makes a run that is ready to start. */
export function startRun(wish: RunWish, means: RunMeans): Run {
  let played: PlayedTake | null = null;
  let heard: Performance | null = null;
  const ended = new Map<string, EndedTake>();
  const desk = {
    open(opened: PlayedTake): void {
      played = opened;
    },
    close(takeId: string, pageMs: number): void {
      if (played?.take.takeId !== takeId) return;
      const { take, performance } = played;
      played = null;
      const isPlayed = performance.scoreMs(pageMs) >= 0;
      ended.set(takeId, { take, report: take.end(pageMs), isPlayed });
    },
  };
  const endedTake = (takeId: string): EndedTake | null => {
    const found = ended.get(takeId) ?? null;
    ended.delete(takeId);
    return found;
  };
  const actor = createActor(
    runMachine.provide({
      actors: {
        prepare: preparing(wish, means),
        hear: hearing(means, (performance) => {
          heard = performance;
        }),
        take: taking(wish, means, desk),
        handIn: handingIn(means.bridge, endedTake),
      },
    }),
    { input: { practice: practiceOf(wish) } },
  ).start();
  return {
    actor,
    played: () => played,
    heard: () => heard,
    key(key, deviceName) {
      if (isSignal(key, means.startSignal())) {
        actor.send({ type: 'SIGNAL' });
        return false;
      }
      played?.take.key(key, deviceName);
      return true;
    },
  };
}
