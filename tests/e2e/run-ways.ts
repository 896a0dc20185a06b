/**
 * The ways through a run that a page can be led: generated from its statechart, as many as there are for what is wished
 * before Start. What only a test of the statechart can bring about is left out.
 */

import { getShortestPaths } from 'xstate/graph';
import {
  type RunEvent,
  type RunSnapshot,
  type RunState,
  runMachine,
  stateOf,
} from '../../src/renderer/run/machine.ts';
import { EXAMPLE, FIRST_PRACTICE, FOLLOWING } from '../renderer/run/run-parts.ts';

/** What is wished before Start: it decides what the run can come to. */
export type Wish =
  | 'one take'
  | 'keys in a cycle'
  | 'an example before'
  | 'an example nobody can write';

/** A step as the page is led to it. */
export type Way =
  | 'START'
  | 'STOP'
  | 'SIGNAL'
  | 'LEAVE'
  | 'READY'
  | 'UNWRITTEN'
  | 'HEARD'
  | 'BEGUN'
  | 'REFUSED'
  | 'PLAYED'
  | 'OVER'
  | 'WAITING'
  | 'KEPT'
  | 'NOT KEPT';

export interface PageWay {
  readonly steps: readonly Way[];
  /** Where the last step is taken. */
  readonly from: RunState;
  readonly end: RunState;
}

type Named = readonly [Way, { readonly type: string }];

const DEEDS: readonly Named[] = (['START', 'STOP', 'SIGNAL', 'LEAVE'] as const).map((type) => [
  type,
  { type },
]);
const FROM_THE_HOST: readonly Named[] = [
  ['BEGUN', { type: 'BEGUN', takeId: 'take' } as RunEvent],
  ['REFUSED', { type: 'FAILED', sentence: 'refused' } as RunEvent],
  ['WAITING', { type: 'WAITING', sentence: 'no host' } as RunEvent],
  ['KEPT', { type: 'HANDED_IN', kept: true, lastMidi: 64 } as RunEvent],
  ['NOT KEPT', { type: 'HANDED_IN', kept: false, lastMidi: null } as RunEvent],
];
const PLAYED: Named = ['PLAYED', { type: 'BEAT', beat: 0 } as RunEvent];
const over = (next: typeof FOLLOWING | null): Named => ['OVER', { type: 'OVER', next } as RunEvent];
const ready = (output: typeof EXAMPLE | null): Named => [
  'READY',
  { type: 'xstate.done.actor.prepare', output } as { type: string },
];

const NEWS: Readonly<Record<Wish, readonly Named[]>> = {
  'one take': [ready(null), PLAYED, over(null), ...FROM_THE_HOST],
  'keys in a cycle': [ready(null), PLAYED, over(FOLLOWING), ...FROM_THE_HOST],
  'an example before': [
    ready(EXAMPLE),
    ['HEARD', { type: 'xstate.done.actor.hear', output: undefined } as { type: string }],
    ...[PLAYED, over(FOLLOWING), ...FROM_THE_HOST],
  ],
  'an example nobody can write': [
    [
      'UNWRITTEN',
      { type: 'xstate.error.actor.prepare', error: new Error('none') } as { type: string },
    ],
  ],
};

/** The ways with a wish, shortest first; each ends with a transition of its own. */
export function pageWays(wish: Wish): readonly PageWay[] {
  const events: readonly Named[] = [...DEEDS, ...NEWS[wish]];
  const nameOf = (event: unknown) =>
    events.find(([, named]) => JSON.stringify(named) === JSON.stringify(event))?.[0];
  const where = ({ value, context }: RunSnapshot) => {
    const { practice: _, ...rest } = context;
    return JSON.stringify([value, rest]);
  };
  return getShortestPaths(runMachine, {
    input: { practice: FIRST_PRACTICE },
    events: events.map(([, event]) => event as RunEvent),
    filterEvents: (snapshot, event) => snapshot.can(event) && canCome(snapshot, nameOf(event)),
    serializeState: (snapshot, event, before) =>
      before === undefined
        ? where(snapshot)
        : `${where(snapshot)} by ${nameOf(event)} from ${where(before)}`,
    limit: 20_000,
  })
    .map(({ state, steps }) => ({
      // The first step is the start itself.
      steps: steps.slice(1).flatMap(({ event }) => nameOf(event) ?? []),
      from: stateOf(steps.at(-2)?.state ?? state),
      end: stateOf(state),
    }))
    .filter(({ steps }) => steps.length > 0)
    .map((way) => ({ ...way, steps: withWhatIsKept(way.steps) }));
}

/** The last step of a way, where it is taken, and where it leads. */
export function lastStepOf({ steps, from, end }: PageWay): string {
  return `${steps.at(-1)} from ${from} to ${end}`;
}

/** The shortest of these ways to each last step, unless it is among those that ways of another wish end with. */
export function shortestWays(
  ways: readonly PageWay[],
  others: ReadonlySet<string>,
): readonly PageWay[] {
  const byLastStep = Map.groupBy(ways, lastStepOf);
  return [...byLastStep].flatMap(([step, [first]]) =>
    first === undefined || others.has(step) ? [] : [first],
  );
}

/** A take is over once it was played through; a page that has gone elsewhere hears nothing more of its run. */
function canCome(snapshot: RunSnapshot, name: Way | undefined): boolean {
  if (name === 'OVER') return stateOf(snapshot) === 'playing';
  return stateOf(snapshot) !== 'left';
}

/**
 * The host keeps what was played from the first downbeat on, and nothing else. The statechart does not know that, so a
 * take that is to be kept is played, on a way that is otherwise the same.
 */
function withWhatIsKept(steps: readonly Way[]): readonly Way[] {
  return steps.flatMap((step, index) => {
    if (step !== 'BEGUN' || steps[index + 1] === 'PLAYED') return [step];
    const handedIn = steps.slice(index).find((later) => later === 'KEPT' || later === 'NOT KEPT');
    return handedIn === 'KEPT' ? [step, 'PLAYED' as const] : [step];
  });
}
