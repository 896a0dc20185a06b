/**
 * The ways through a run, generated from its statechart: a path for each transition of each state, not only one to each
 * state. Given a list of events the walk stops finding them itself, so all stand here.
 */

import { getShortestPaths } from 'xstate/graph';
import { type RunEvent, runMachine, stateOf } from '../../../src/renderer/run/machine.ts';
import { EXAMPLE, FIRST_PRACTICE, FOLLOWING } from './run-parts.ts';

/** What comes from an invoked promise has its own name. */
type PromiseEvent =
  | { readonly type: 'xstate.done.actor.prepare'; readonly output: typeof EXAMPLE | null }
  | { readonly type: 'xstate.error.actor.prepare'; readonly error: Error }
  | { readonly type: 'xstate.done.actor.hear'; readonly output: undefined }
  | { readonly type: 'xstate.error.actor.hear'; readonly error: Error };

export type Step = RunEvent | PromiseEvent;

/** What the player or the page does: it may happen at any moment. */
export const DEEDS = [
  { type: 'START' },
  { type: 'STOP' },
  { type: 'SIGNAL' },
  { type: 'LEAVE' },
] as const satisfies readonly Step[];

/** What the effects tell, each only while its actor lives. */
export const NEWS: readonly Step[] = [
  { type: 'xstate.done.actor.prepare', output: EXAMPLE },
  { type: 'xstate.done.actor.prepare', output: null },
  { type: 'xstate.error.actor.prepare', error: new Error('no such line') },
  { type: 'xstate.done.actor.hear', output: undefined },
  { type: 'xstate.error.actor.hear', error: new Error('no sound') },
  { type: 'BEGUN', takeId: 'take' },
  { type: 'FAILED', sentence: 'not to be had' },
  { type: 'BEAT', beat: -1 },
  { type: 'BEAT', beat: 0 },
  { type: 'OVER', next: null },
  { type: 'OVER', next: FOLLOWING },
  { type: 'WAITING', sentence: 'no host' },
  { type: 'HANDED_IN', kept: true, lastMidi: 64 },
  { type: 'HANDED_IN', kept: false, lastMidi: null },
];

export interface RunPath {
  readonly steps: readonly Step[];
  /** The state before the last step, or null for the start. */
  readonly from: ReturnType<typeof stateOf> | null;
  readonly end: ReturnType<typeof stateOf>;
}

/** The paths by some of the news, the start first; each ends with a transition of its own. */
export function runPaths(news: readonly Step[] = NEWS): readonly RunPath[] {
  const where = (value: unknown, context: object) =>
    JSON.stringify([value, context], (_, part: unknown) =>
      part === FIRST_PRACTICE.form ? 'form' : part,
    );
  return getShortestPaths(runMachine, {
    input: { practice: FIRST_PRACTICE },
    events: [...DEEDS, ...news] as RunEvent[],
    filterEvents: (snapshot, event) => snapshot.can(event),
    serializeState: (snapshot, event, before) => {
      const at = where(snapshot.value, snapshot.context);
      return before === undefined
        ? at
        : `${at} by ${JSON.stringify(event)} from ${where(before.value, before.context)}`;
    },
    limit: 20_000,
  }).map(({ state, steps }) => {
    const before = steps.at(-2)?.state;
    return {
      // The first step is the start itself.
      steps: steps.slice(1).map(({ event }) => event as Step),
      from: before === undefined ? null : stateOf(before),
      end: stateOf(state),
    };
  });
}

/** `START > BEGUN > BEAT 0`. */
export function wordsOf({ steps }: Pick<RunPath, 'steps'>): string {
  return steps.length === 0 ? 'nothing yet' : steps.map(stepWords).join(' > ');
}

function stepWords(step: Step): string {
  if (step.type === 'BEAT') return `BEAT ${step.beat}`;
  if (step.type === 'OVER') return step.next === null ? 'OVER' : 'OVER, on';
  if (step.type === 'HANDED_IN') return step.kept ? 'KEPT' : 'NOT KEPT';
  const name = step.type.replace(/^xstate\.|actor\./gu, '');
  return name === 'done.prepare' && 'output' in step && step.output === null
    ? 'ready to play'
    : name;
}
