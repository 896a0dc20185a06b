/**
 * The statechart of a run: ways generated from it and walked over fake effects, with laws that are not read off it. Own
 * rules; their source is what a player means by Stop and by leaving. What the machine lacks no generated way shows, nor a second
 * run after the first: both are asked for outright.
 */

import { describe, expect, test } from 'vitest';
import { type RunState, stateOf } from '../../../src/renderer/run/machine.ts';
import { fakeRun } from './fake-effects.ts';
import { DEEDS, NEWS, type RunPath, runPaths, type Step, wordsOf } from './paths.ts';
import { EXAMPLE } from './run-parts.ts';

const PATHS = runPaths();
const SOUNDING: readonly RunState[] = ['hearing', 'countIn', 'playing'];
const AT_REST: readonly RunState[] = ['ready', 'ended', 'failed'];

type FakeRun = ReturnType<typeof fakeRun>;

function obeys({ actor, counts }: FakeRun): void {
  const snapshot = actor.getSnapshot();
  const state = stateOf(snapshot);
  expect(counts.sounding, `it sounds exactly while it should: ${state}`).toBe(
    SOUNDING.includes(state) ? 1 : 0,
  );
  expect(counts.most, 'two never sound at once').toBeLessThanOrEqual(1);
  expect(counts.openTakes, 'one take at most is open').toBeLessThanOrEqual(1);
  if (AT_REST.includes(state) || snapshot.matches('left')) {
    expect(counts.openTakes, `no take is left open: ${state}`).toBe(0);
    expect(snapshot.context.takeId).toBeNull();
  }
  if (state === 'ended') expect(snapshot.context.lastTakeId).not.toBeNull();
  // What went wrong is told until the player starts anew or goes.
  if (!['failed', 'ended', 'left'].includes(state)) expect(snapshot.context.problem).toBeNull();
}

async function walk(steps: readonly Step[]): Promise<FakeRun> {
  const run = fakeRun();
  for (const step of steps) {
    await run.take(step);
    obeys(run);
    const at = run.actor.getSnapshot();
    await run.speakLate();
    expect(run.actor.getSnapshot(), 'nobody hears what an earlier state still says').toBe(at);
  }
  return run;
}

const stateAfter = (run: FakeRun): RunState => stateOf(run.actor.getSnapshot());

describe('ways generated from the statechart', () => {
  test('are many, and reach each state', () => {
    expect(PATHS.length).toBeGreaterThanOrEqual(150);
    expect(new Set(PATHS.map(({ end }) => end))).toEqual(
      new Set<RunState>([
        ...SOUNDING,
        ...AT_REST,
        ...(['loading', 'between', 'ending', 'left'] as const),
      ]),
    );
  });

  test('have every deed of the player in every state but the last, which hears none', () => {
    const told = new Map<RunState, Set<string>>();
    for (const { steps, end } of PATHS) {
      const before = PATHS.find((path) => isSame(path.steps, steps.slice(0, -1)));
      const at = before?.end ?? (steps.length === 1 ? 'ready' : end);
      told.set(at, (told.get(at) ?? new Set()).add(steps.at(-1)?.type ?? ''));
    }
    for (const state of [...SOUNDING, ...(['ready', 'failed', 'loading', 'between'] as const)]) {
      for (const deed of ['STOP', 'SIGNAL', 'LEAVE']) {
        expect(told.get(state)?.has(deed), `${deed} in ${state}`).toBe(true);
      }
    }
  });

  test.each(PATHS.map((path) => [wordsOf(path), path] as const))('%s', async (_, path) => {
    expect(stateAfter(await walk(path.steps))).toBe(path.end);
  });
});

function isSame(one: readonly Step[], other: readonly Step[]): boolean {
  return JSON.stringify(one) === JSON.stringify(other);
}

/** What Stop must lead to from a state, by what has been kept in the run. */
function meantByStop(state: RunState, hasTake: boolean): readonly RunState[] {
  if (state === 'ended' || state === 'left') return [state];
  if (state === 'ready') return ['left'];
  if (state === 'failed') return [hasTake ? 'ended' : 'left'];
  if (state === 'loading' || state === 'hearing') return [hasTake ? 'ended' : 'ready'];
  return ['ending'];
}

// One path to each state and context is enough to ask what comes after it.
const PLACES = [...new Map(PATHS.map((path) => [placeOf(path), path])).values()];

function placeOf({ steps, end }: RunPath): string {
  const kept = steps.some((step) => step.type === 'HANDED_IN' && step.kept);
  const waits = steps.findLast(({ type }) => type === 'WAITING' || type === 'HANDED_IN');
  return [end, kept, waits?.type === 'WAITING'].join(' ');
}

describe('exits asked for outright', () => {
  test.each(PLACES.map((path) => [placeOf(path), path] as const))(
    'from %s: Stop, the signal and leaving',
    async (_, { steps, end }) => {
      for (const deed of ['STOP', 'SIGNAL', 'LEAVE'] as const) {
        const run = await walk(steps);
        const hasTake = run.actor.getSnapshot().context.lastTakeId !== null;
        await run.take({ type: deed });
        obeys(run);
        expect(run.counts.sounding, `${deed} silences`).toBe(
          deed === 'SIGNAL' && (end === 'ready' || end === 'failed') ? run.counts.sounding : 0,
        );
        const now = stateAfter(run);
        if (deed === 'LEAVE') expect(now).toBe('left');
        if (deed === 'STOP') expect(meantByStop(end, hasTake)).toContain(now);
        if (deed === 'SIGNAL') {
          const starts = end === 'ready' || end === 'failed';
          expect(starts ? ['loading'] : meantByStop(end, hasTake)).toContain(now);
        }
        // Whatever is open is handed in, and the run comes to rest.
        if (run.actor.getSnapshot().matches('handingIn')) {
          await run.take({ type: 'HANDED_IN', kept: true, lastMidi: null });
          obeys(run);
          expect(stateAfter(run)).toBe(deed === 'LEAVE' || end === 'left' ? 'left' : 'ended');
        }
      }
    },
  );

  test('a Stop between two takes is that of the take just played, also when handing in waits', async () => {
    const next = NEWS.find((step) => step.type === 'OVER' && step.next !== null);
    if (next === undefined) throw new Error('no take follows');
    const run = await walk([...PLAYED, next, { type: 'WAITING', sentence: 'no host' }]);
    expect(stateAfter(run)).toBe('between');
    await run.take({ type: 'STOP' });
    expect(run.actor.getSnapshot().context.waiting).toBe('no host');
    await run.take({ type: 'HANDED_IN', kept: true, lastMidi: 64 });
    expect(stateAfter(run)).toBe('ended');
    expect(run.actor.getSnapshot().context).toMatchObject({ lastTakeId: 'take', waiting: null });
  });

  test('each event that a state does not know leaves it as it is', async () => {
    for (const { steps } of PLACES) {
      for (const step of [...DEEDS, ...NEWS]) {
        const run = await walk(steps);
        const at = run.actor.getSnapshot();
        if (step.type.startsWith('xstate') || at.can(step as never)) continue;
        run.actor.send(step as never);
        expect(run.actor.getSnapshot()).toBe(at);
      }
    }
  });
});

const PLAYED: readonly Step[] = [
  { type: 'START' },
  { type: 'xstate.done.actor.prepare', output: null },
  { type: 'BEGUN', takeId: 'take' },
  { type: 'BEAT', beat: 0 },
];

describe('a second run after the first', () => {
  const rests = PLACES.filter(({ end }) => end === 'ready' || end === 'failed');

  test.each(rests.map((path) => [placeOf(path), path] as const))(
    'after %s: heard, played, stopped, reviewed',
    async (_, { steps }) => {
      const again: readonly Step[] = [
        { type: 'START' },
        { type: 'xstate.done.actor.prepare', output: EXAMPLE },
        { type: 'xstate.done.actor.hear', output: undefined },
        { type: 'BEGUN', takeId: 'second' },
        { type: 'BEAT', beat: 0 },
        { type: 'STOP' },
        { type: 'HANDED_IN', kept: true, lastMidi: 60 },
      ];
      const run = await walk([...steps, ...again]);
      expect(stateAfter(run)).toBe('ended');
      expect(run.actor.getSnapshot().context).toMatchObject({
        lastTakeId: 'second',
        problem: null,
        waiting: null,
      });
    },
  );

  test('a take without a note is not what Stop opens', async () => {
    const handed = (kept: boolean): Step => ({ type: 'HANDED_IN', kept, lastMidi: null });
    expect(stateAfter(await walk([...PLAYED, { type: 'STOP' }, handed(false)]))).toBe('ready');
    const followed = NEWS.filter((step) => step.type === 'OVER' && step.next !== null);
    const second = [
      { type: 'xstate.done.actor.prepare', output: null },
      { type: 'BEGUN', takeId: 'second' },
      { type: 'STOP' },
    ] as const satisfies readonly Step[];
    const run = await walk([...PLAYED, ...followed, handed(true), ...second, handed(false)]);
    expect(stateAfter(run)).toBe('ended');
    expect(run.actor.getSnapshot().context.lastTakeId).toBe('take');
  });
});
