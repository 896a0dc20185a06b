// @vitest-environment happy-dom
/**
 * Ways through a run, generated from its statechart, gone on the play screen with the real effects: each step comes about as
 * it does for a player, by a key, a button, time that passes, a host that answers or does not. After each the page says
 * where the run is and sounds exactly while it should; at the end nothing sounds, no take is open, and what was played is stored.
 */

import { fireEvent, screen } from '@testing-library/react';
import { describe, expect, test, vi } from 'vitest';
import { completeSettings } from '../../../src/core/grading/index.ts';
import { ALONE, type RunManner, type RunWish } from '../../../src/renderer/prepare/run-wish.ts';
import type { RunState } from '../../../src/renderer/run/index.ts';
import { readPlayerSettings } from '../../../src/renderer/settings/player-settings.ts';
import { fakeAudio } from '../../helpers/fake-audio.ts';
import { formFromText } from '../../helpers/form-from-text.ts';
import { runs } from '../../helpers/runs.ts';
import { setUpFor } from '../../helpers/set-up.ts';
import { NEWS, type RunPath, runPaths, type Step, wordsOf } from '../run/paths.ts';
import {
  openPlaying,
  passing,
  playOnFakeTime,
  press,
  pressEscape,
  takeHost,
  until,
} from './playing-page.tsx';

vi.mock('webmidi', () => import('../../helpers/fake-webmidi.ts'));
playOnFakeTime();

/** C4 starts and stops, D4 is a note of the line. */
const SIGNAL_CODE = 'KeyZ';
const LINE_CODE = 'KeyX';

function wishFor(manner: Partial<RunManner>): RunWish {
  const tempo = { kind: 'steady', tempoBpm: 240 } as const;
  const grade = completeSettings({ level: 'steps', tempo, choruses: 1 });
  return { form: formFromText('| Cmaj7 |'), setUp: { ...setUpFor(), grade }, ...ALONE, ...manner };
}

const isPrepared = (step: Step, isExample: boolean): boolean =>
  step.type === 'xstate.done.actor.prepare' && (step.output !== null) === isExample;
const isOver = (step: Step, isFollowed: boolean): boolean =>
  step.type === 'OVER' && (step.next !== null) === isFollowed;
const ofHost = (step: Step): boolean =>
  ['BEGUN', 'FAILED', 'BEAT', 'WAITING', 'HANDED_IN'].includes(step.type);

/** What can come about in a run of a kind. Sound that fails is the transport's own matter. */
const KINDS = [
  {
    name: 'alone',
    wish: wishFor({}),
    news: NEWS.filter((step) => ofHost(step) || isPrepared(step, false) || isOver(step, false)),
  },
  {
    name: 'in a key cycle',
    wish: wishFor({ keyCycle: 'fourths' }),
    news: NEWS.filter((step) => ofHost(step) || isPrepared(step, false) || isOver(step, true)),
  },
] as const;

/** The second take of a run is in `play-screen.test.tsx`. */
const MOST_TAKES = 1;

/** A take is kept when its downbeat came and a key was played; it is over when it was kept going to its end. */
function canComeAbout({ steps }: RunPath): boolean {
  let isPlayed = false;
  if (steps.filter(({ type }) => type === 'BEGUN').length > MOST_TAKES) return false;
  for (const [index, step] of steps.entries()) {
    const before = steps[index - 1];
    if (step.type === 'BEGUN') isPlayed = false;
    if ((step.type === 'BEAT' && step.beat >= 0) || step.type === 'OVER') isPlayed = true;
    if (step.type === 'HANDED_IN' && step.kept && !isPlayed) return false;
    // A beat of a take that is being counted in changes nothing, and has no place on the page.
    if (before?.type === 'BEAT' && before.beat < 0 && step.type === 'BEAT') return false;
  }
  return true;
}

/**
 * `npm test` goes the first, and so the shortest, of the paths that end with the same event in the same state and lead to the
 * same one; with ALL_RUNS=1 all are gone, which differ in what came before.
 */
function gone(paths: readonly RunPath[]): readonly RunPath[] {
  const seen = new Set<string>();
  const firsts = paths.filter(({ steps, from, end }) => {
    const transition = `${from} ${wordsOf({ steps: steps.slice(-1) })} ${end}`;
    const isNew = !seen.has(transition);
    seen.add(transition);
    return isNew;
  });
  return runs(paths.length, firsts.length) === paths.length ? paths : firsts;
}

const SOUNDING: readonly RunState[] = ['hearing', 'countIn', 'playing'];

async function go(wish: RunWish, { steps, end }: RunPath): Promise<void> {
  const start = { kind: 'note', midi: 60 } as const;
  const host = takeHost({ ...readPlayerSettings({}), start });
  const { onDone, onBack, leave } = await openPlaying(wish, host);
  let hasLeft = false;
  let played = 0;
  const flush = () => passing(0);

  const willBeKept = (from: number): boolean => {
    const handed = steps.slice(from).find(({ type }) => type === 'HANDED_IN' || type === 'FAILED');
    return handed?.type === 'HANDED_IN' && handed.kept;
  };

  async function cause(step: Step, index: number): Promise<void> {
    switch (step.type) {
      case 'START':
        host.hold('takes.begin');
        host.hold('takes.finish');
        return press('Start');
      case 'STOP':
        return void pressEscape();
      case 'SIGNAL':
        host.hold('takes.begin');
        host.hold('takes.finish');
        fireEvent.keyDown(document.body, { key: 'z', code: SIGNAL_CODE });
        return void fireEvent.keyUp(document.body, { key: 'z', code: SIGNAL_CODE });
      case 'LEAVE':
        hasLeft = true;
        return leave();
      case 'xstate.done.actor.prepare':
        return void (await passing(20));
      case 'BEGUN':
        host.letGo('takes.begin');
        await passing(400);
        host.hold('takes.begin');
        return;
      case 'BEAT':
        if (step.beat < 0) return void (await passing(500));
        await until(() => document.querySelector('.stage-bar.current') !== null);
        await passing(100);
        return play(willBeKept(index));
      case 'OVER':
        if (willBeKept(index) && played === 0) {
          await until(() => document.querySelector('.stage-bar.current') !== null);
          await play(true);
        }
        host.hold('takes.finish');
        return until(isBetween);
      case 'WAITING':
        host.state.isAway = true;
        host.letGo('takes.finish');
        return void (await passing(50));
      case 'HANDED_IN':
        played = 0;
        host.state.isAway = false;
        host.hold('takes.begin');
        host.letGo('takes.finish');
        return void (await passing(300));
      case 'FAILED':
        if (host.open().length === 0) host.state.isBusy = true;
        else host.state.hasLost = true;
        host.state.isAway = false;
        host.letGo('takes.begin');
        host.letGo('takes.finish');
        await passing(300);
        host.state.isBusy = false;
        host.state.hasLost = false;
    }
  }

  async function play(isMeant: boolean): Promise<void> {
    if (!isMeant) return;
    played++;
    fireEvent.keyDown(document.body, { key: 'x', code: LINE_CODE });
    await passing(60);
    fireEvent.keyUp(document.body, { key: 'x', code: LINE_CODE });
  }

  /** The end of the take has been asked for, and waits for its answer. */
  const isBetween = (): boolean => host.isWaiting('takes.finish');

  for (const [index, step] of steps.entries()) await cause(step, index);
  await flush();

  const button = (name: RegExp | string) => screen.queryByRole('button', { name });
  if (hasLeft) expect(end).toBe('left');
  else if (end === 'ended') expect(onDone).toHaveBeenCalled();
  else if (end === 'left') expect(onBack).toHaveBeenCalled();
  else if (end === 'ready' || end === 'failed') {
    expect(button('Start')).not.toBeNull();
    expect(screen.queryAllByRole('alert').length > 0).toBe(end === 'failed');
  } else if (end === 'ending') expect(button('Storing the take …')).not.toBeNull();
  else expect(button(/^Stop/), end).not.toBeNull();
  await passing(SOUNDING.includes(end) ? 60 : 120);
  if (SOUNDING.includes(end)) expect(fakeAudio.isSilent()).toBe(false);
  else if (end !== 'loading') expect(fakeAudio.isSilent(), 'silent within 120 ms').toBe(true);

  // Whatever else comes, it is left, and the host answers all it was asked.
  if (!hasLeft) leave();
  host.state.isAway = false;
  host.letGo('takes.begin');
  host.letGo('takes.finish');
  await passing(1_000);
  expect(fakeAudio.isSilent(), 'nothing sounds at the end').toBe(true);
  const open = host.open();
  const lost = steps.filter(({ type }) => type === 'FAILED').length;
  expect(open.length, 'no take is open at the end').toBeLessThanOrEqual(lost);
}

describe.each(KINDS)('a run $name', ({ wish, news }) => {
  const paths = gone(runPaths(news).filter(canComeAbout));
  test.each(paths.map((path) => [wordsOf(path), path] as const))('%s', (_, path) => go(wish, path));
});

test('are more than a hundred', () => {
  const all = KINDS.flatMap(({ news }) => runPaths(news).filter(canComeAbout));

  expect(all.length).toBeGreaterThan(100);
});
