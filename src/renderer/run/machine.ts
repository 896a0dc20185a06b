/**
 * A run, from Start to the review, as one statechart. Pure: what sounds, listens and stores is only named here and filled
 * in by `effects/`; the screen draws the snapshot. What is invoked lives as long as its state, so that leaving a state by
 * any way ends its sound, and a late message of an earlier take reaches nobody.
 */

import { assign, fromCallback, fromPromise, type SnapshotFrom, setup } from 'xstate';
import type { TakeSetUp } from '../../../shared/bridge/index.ts';
import type { Form } from '../../core/chart/index.ts';
import type { WrittenLine } from '../../core/line/index.ts';

/** What is played now, or next. */
export interface Practice {
  readonly form: Form;
  readonly setUp: TakeSetUp;
  readonly tempoBpm: number;
}

/** What follows a take by itself, and what the player is told of it. */
export interface Following {
  readonly practice: Practice;
  readonly sentence: string;
}

export interface RunContext {
  readonly practice: Practice;
  /** What the player was told last of what follows, or null. */
  readonly told: string | null;
  /** The example heard before the present take, or null. */
  readonly example: WrittenLine | null;
  /** The take that is begun at the host and not handed in yet. */
  readonly takeId: string | null;
  /** The take last kept in this run: what Stop opens when nothing came after it. */
  readonly lastTakeId: string | null;
  /** The last key of that take, from which the next example goes on. */
  readonly lastMidi: number | null;
  /** Why the host does not take what was played, in words; null: it does. */
  readonly waiting: string | null;
  /** What went wrong, in words. */
  readonly problem: string | null;
}

export type RunEvent =
  | { readonly type: 'START' }
  | { readonly type: 'STOP' }
  /** The key or pedal that the player has set: it starts what rests and stops what runs. */
  | { readonly type: 'SIGNAL' }
  /** The page goes elsewhere. */
  | { readonly type: 'LEAVE' }
  | { readonly type: 'BEGUN'; readonly takeId: string }
  /** A beat is heard; 0 is the first downbeat. */
  | { readonly type: 'BEAT'; readonly beat: number }
  /** The take has come to its end, or its tempo is to follow; null: nothing comes after it. */
  | { readonly type: 'OVER'; readonly next: Following | null }
  | { readonly type: 'FAILED'; readonly sentence: string }
  /** Handing in waits for the host; null: no more. */
  | { readonly type: 'WAITING'; readonly sentence: string | null }
  | { readonly type: 'HANDED_IN'; readonly kept: boolean; readonly lastMidi: number | null };

export interface PrepareInput {
  readonly practice: Practice;
  readonly lastMidi: number | null;
}

export interface HearInput {
  readonly practice: Practice;
  readonly line: WrittenLine;
}

export interface TakeInput {
  readonly practice: Practice;
  readonly example: WrittenLine | null;
}

export interface HandInInput {
  readonly takeId: string;
}

const unfilled = (): never => {
  throw new Error('the effects of a run are filled in by provide()');
};

/** A review where there is something to review, else the screen as it was before Start. */
const toLastTake = [
  { guard: 'hasLastTake', target: '#run.ended' },
  { target: '#run.ready' },
] as const;

/** What a rejected effect says. */
export const wordsOf = (error: unknown): string =>
  error instanceof Error ? error.message : String(error);

export const runMachine = setup({
  types: {
    context: {} as RunContext,
    events: {} as RunEvent,
    input: {} as { readonly practice: Practice },
  },
  actors: {
    /** Gets ready what is heard before a take: the example, or null where none is wished. Rejects in words. */
    prepare: fromPromise<WrittenLine | null, PrepareInput>(unfilled),
    /** Sounds the example to its end. Rejects in words. */
    hear: fromPromise<void, HearInput>(unfilled),
    /** Begins a take at the host and sounds what it is played to; when it is stopped nothing sounds or records any more. */
    take: fromCallback<RunEvent, TakeInput, RunEvent>(unfilled),
    /** Hands in the take that was stopped last. Goes on by itself when nobody waits for it any more. */
    handIn: fromCallback<RunEvent, HandInInput, RunEvent>(unfilled),
  },
  actions: {
    beginAnew: assign({ example: null, lastMidi: null, problem: null, waiting: null }),
    takeBegun: assign({ takeId: (_, takeId: string) => takeId }),
    fail: assign({ problem: (_, sentence: string) => sentence, takeId: null, waiting: null }),
    follow: assign((_, { practice, sentence }: Following) => ({ practice, told: sentence })),
    wait: assign({ waiting: (_, sentence: string | null) => sentence }),
    handedIn: assign(
      ({ context }, { kept, lastMidi }: { kept: boolean; lastMidi: number | null }) => ({
        takeId: null,
        waiting: null,
        lastTakeId: kept ? context.takeId : context.lastTakeId,
        lastMidi,
      }),
    ),
  },
  guards: {
    hasLastTake: ({ context }) => context.lastTakeId !== null,
    leadsToReview: ({ context }, kept: boolean) => kept || context.lastTakeId !== null,
    isPlayed: (_, beat: number) => beat >= 0,
    isFollowed: (_, next: Following | null) => next !== null,
  },
}).createMachine({
  id: 'run',
  context: ({ input }) => ({
    practice: input.practice,
    told: null,
    example: null,
    takeId: null,
    lastTakeId: null,
    lastMidi: null,
    waiting: null,
    problem: null,
  }),
  initial: 'ready',
  states: {
    ready: {
      on: {
        START: { target: 'loading', actions: 'beginAnew' },
        SIGNAL: { target: 'loading', actions: 'beginAnew' },
        STOP: 'left',
        LEAVE: 'left',
      },
    },
    loading: {
      invoke: {
        id: 'prepare',
        src: 'prepare',
        input: ({ context: { practice, lastMidi } }) => ({ practice, lastMidi }),
        onDone: [
          {
            guard: ({ event }) => event.output !== null,
            target: 'hearing',
            actions: assign({ example: ({ event }) => event.output }),
          },
          { target: 'taking' },
        ],
        onError: {
          target: 'failed',
          actions: { type: 'fail', params: ({ event }) => wordsOf(event.error) },
        },
      },
      on: { STOP: [...toLastTake], SIGNAL: [...toLastTake], LEAVE: 'left' },
    },
    hearing: {
      invoke: {
        id: 'hear',
        src: 'hear',
        input: ({ context: { practice, example } }) =>
          example === null ? unfilled() : { practice, line: example },
        onDone: 'taking',
        onError: {
          target: 'failed',
          actions: { type: 'fail', params: ({ event }) => wordsOf(event.error) },
        },
      },
      on: { STOP: [...toLastTake], SIGNAL: [...toLastTake], LEAVE: 'left' },
    },
    taking: {
      invoke: {
        id: 'take',
        src: 'take',
        input: ({ context: { practice, example } }) => ({ practice, example }),
      },
      initial: 'beginning',
      states: {
        beginning: {
          on: {
            BEGUN: {
              target: 'begun',
              actions: { type: 'takeBegun', params: ({ event }) => event.takeId },
            },
            FAILED: {
              target: '#run.failed',
              actions: { type: 'fail', params: ({ event }) => event.sentence },
            },
            STOP: [...toLastTake],
            SIGNAL: [...toLastTake],
            LEAVE: '#run.left',
          },
        },
        // What is begun is handed in, whatever ends it.
        begun: {
          initial: 'countIn',
          states: {
            countIn: {
              on: {
                BEAT: {
                  guard: { type: 'isPlayed', params: ({ event }) => event.beat },
                  target: 'playing',
                },
              },
            },
            playing: {},
          },
          on: {
            OVER: [
              {
                guard: { type: 'isFollowed', params: ({ event }) => event.next },
                target: '#run.handingIn.between',
                actions: { type: 'follow', params: ({ event }) => event.next ?? unfilled() },
              },
              { target: '#run.handingIn.ending' },
            ],
            STOP: '#run.handingIn.ending',
            SIGNAL: '#run.handingIn.ending',
            LEAVE: '#run.handingIn.leaving',
          },
        },
      },
    },
    handingIn: {
      invoke: {
        id: 'handIn',
        src: 'handIn',
        input: ({ context: { takeId } }) => ({ takeId: takeId ?? unfilled() }),
      },
      initial: 'ending',
      states: {
        between: {
          on: {
            HANDED_IN: {
              target: '#run.loading',
              actions: { type: 'handedIn', params: ({ event }) => event },
            },
            STOP: 'ending',
            SIGNAL: 'ending',
          },
        },
        ending: {
          on: {
            HANDED_IN: [
              {
                guard: { type: 'leadsToReview', params: ({ event }) => event.kept },
                target: '#run.ended',
                actions: { type: 'handedIn', params: ({ event }) => event },
              },
              {
                target: '#run.ready',
                actions: { type: 'handedIn', params: ({ event }) => event },
              },
            ],
          },
        },
        leaving: {
          on: {
            HANDED_IN: {
              target: '#run.left',
              actions: { type: 'handedIn', params: ({ event }) => event },
            },
            FAILED: {
              target: '#run.left',
              actions: { type: 'fail', params: ({ event }) => event.sentence },
            },
          },
        },
      },
      on: {
        WAITING: { actions: { type: 'wait', params: ({ event }) => event.sentence } },
        FAILED: {
          target: 'failed',
          actions: { type: 'fail', params: ({ event }) => event.sentence },
        },
        LEAVE: '.leaving',
      },
    },
    /** The take last kept is to be reviewed. */
    ended: { on: { LEAVE: 'left' } },
    failed: {
      on: {
        START: { target: 'loading', actions: 'beginAnew' },
        SIGNAL: { target: 'loading', actions: 'beginAnew' },
        STOP: [{ guard: 'hasLastTake', target: 'ended' }, { target: 'left' }],
        LEAVE: 'left',
      },
    },
    left: {},
  },
});

export type RunSnapshot = SnapshotFrom<typeof runMachine>;

/** What a player would call the state a run is in. */
export type RunState =
  | 'ready'
  | 'loading'
  | 'hearing'
  | 'countIn'
  | 'playing'
  | 'between'
  | 'ending'
  | 'ended'
  | 'failed'
  | 'left';

/** The state of a snapshot by its one name. */
export function stateOf({ value }: Pick<RunSnapshot, 'value'>): RunState {
  if (typeof value === 'string') return value;
  if ('taking' in value) return value.taking === 'beginning' ? 'loading' : value.taking.begun;
  return value.handingIn === 'leaving' ? 'left' : value.handingIn;
}
