/** Effects of a run that do nothing but count, and speak when they are told to; those of earlier states go on speaking. */

import { setImmediate as turn } from 'node:timers/promises';
import { createActor, fromCallback, fromPromise } from 'xstate';
import type { WrittenLine } from '../../../src/core/line/index.ts';
import {
  type HandInInput,
  type HearInput,
  type PrepareInput,
  type RunEvent,
  runMachine,
  type TakeInput,
} from '../../../src/renderer/run/machine.ts';
import type { Step } from './paths.ts';
import { FIRST_PRACTICE } from './run-parts.ts';

type Send = (event: RunEvent) => void;
interface Promised<Value> {
  readonly resolve: (value: Value) => void;
  readonly reject: (error: Error) => void;
}

export function fakeRun() {
  const preparing: Promised<WrittenLine | null>[] = [];
  const hearing: Promised<void>[] = [];
  const taking: Send[] = [];
  const handingIn: Send[] = [];
  const counts = { sounding: 0, most: 0, openTakes: 0 };

  function sound(isOn: boolean): void {
    counts.sounding += isOn ? 1 : -1;
    counts.most = Math.max(counts.most, counts.sounding);
  }

  const actor = createActor(
    runMachine.provide({
      actors: {
        prepare: fromPromise<WrittenLine | null, PrepareInput>(() => {
          const promised = Promise.withResolvers<WrittenLine | null>();
          preparing.push(promised);
          return promised.promise;
        }),
        hear: fromPromise<void, HearInput>(({ signal }) => {
          const promised = Promise.withResolvers<void>();
          sound(true);
          let isOver = false;
          const end = (): void => {
            if (!isOver) sound(false);
            isOver = true;
          };
          signal.addEventListener('abort', end);
          hearing.push({
            resolve() {
              end();
              promised.resolve();
            },
            reject(error) {
              end();
              promised.reject(error);
            },
          });
          return promised.promise;
        }),
        take: fromCallback<RunEvent, TakeInput, RunEvent>(({ sendBack }) => {
          let isBegun = false;
          taking.push((event) => {
            if (event.type === 'BEGUN' && !isBegun) {
              isBegun = true;
              counts.openTakes++;
              sound(true);
            }
            sendBack(event);
          });
          return () => {
            if (isBegun) sound(false);
          };
        }),
        handIn: fromCallback<RunEvent, HandInInput, RunEvent>(({ sendBack }) => {
          handingIn.push((event) => {
            if (event.type === 'HANDED_IN' || event.type === 'FAILED') counts.openTakes--;
            sendBack(event);
          });
        }),
      },
    }),
    { input: { practice: FIRST_PRACTICE } },
  ).start();

  /** Lets a step come about the way it does; throws for one that nothing could cause now. */
  async function take(step: Step): Promise<void> {
    const at = actor.getSnapshot();
    switch (step.type) {
      case 'xstate.done.actor.prepare':
        last(preparing).resolve(step.output);
        break;
      case 'xstate.error.actor.prepare':
        last(preparing).reject(step.error);
        break;
      case 'xstate.done.actor.hear':
        last(hearing).resolve();
        break;
      case 'xstate.error.actor.hear':
        last(hearing).reject(step.error);
        break;
      case 'BEGUN':
      case 'BEAT':
      case 'OVER':
        last(taking)(step);
        break;
      case 'WAITING':
      case 'HANDED_IN':
        last(handingIn)(step);
        break;
      case 'FAILED':
        last(at.matches('taking') ? taking : handingIn)(step);
        break;
      default:
        actor.send(step);
    }
    await turn();
  }

  /** Effects of states that were left say what they still have to say. */
  async function speakLate(): Promise<void> {
    const at = actor.getSnapshot();
    for (const late of before(preparing, at.matches('loading'))) late.resolve(null);
    for (const late of before(hearing, at.matches('hearing'))) late.reject(new Error('late'));
    for (const late of before(taking, at.matches('taking'))) {
      late({ type: 'BEAT', beat: 7 });
      late({ type: 'OVER', next: null });
    }
    await turn();
  }

  return { actor, counts, take, speakLate };
}

function last<Part>(parts: readonly Part[]): Part {
  const part = parts.at(-1);
  if (part === undefined) throw new Error('no effect that could tell this was ever started');
  return part;
}

/** All but the last while that is alive. */
function before<Part>(parts: readonly Part[], isAlive: boolean): readonly Part[] {
  return isAlive ? parts.slice(0, -1) : parts;
}
