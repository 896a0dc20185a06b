// @vitest-environment happy-dom
/**
 * Playing, from Start to the review, in a document: what Stop opens, what leaving leaves behind. Own rules; their source is
 * what a player means.
 */

import { screen } from '@testing-library/react';
import { describe, expect, test, vi } from 'vitest';
import { completeSettings } from '../../../src/core/grading/index.ts';
import { ALONE, type RunWish } from '../../../src/renderer/prepare/run-wish.ts';
import { readPlayerSettings } from '../../../src/renderer/settings/player-settings.ts';
import { fakeAudio } from '../../helpers/fake-audio.ts';
import { formFromText } from '../../helpers/form-from-text.ts';
import { setUpFor } from '../../helpers/set-up.ts';
import {
  expectQuiet,
  isShown,
  openPlaying,
  passing,
  playKey,
  playOnFakeTime,
  press,
  pressEscape,
  takeHost,
  until,
} from './playing-page.tsx';

vi.mock('webmidi', () => import('../../helpers/fake-webmidi.ts'));
playOnFakeTime();

/** A bar of four beats a second. */
const TEMPO_BPM = 240;
/** From pressing Start to the first click, and one bar of count-in. */
const COUNTED_IN_MS = 500 + 1000;

function wishFor(choruses: number | null, manner: Partial<RunWish> = {}): RunWish {
  const tempo = { kind: 'steady', tempoBpm: TEMPO_BPM } as const;
  const grade = completeSettings({ level: 'steps', tempo, choruses });
  return { form: formFromText('| Cmaj7 |'), setUp: { ...setUpFor(), grade }, ...ALONE, ...manner };
}

const HEARD = {
  purpose: 'toAnswer',
  register: { lowestMidi: 60, highestMidi: 84 },
  style: 'teaching',
  density: 0.25,
} as const satisfies RunWish['heard'];

describe('a run', () => {
  test('names what starts it, plays, and opens the review of its take', async () => {
    const settings = { ...readPlayerSettings({}), start: { kind: 'note', midi: 36 } as const };
    const { host, onDone } = await openPlaying(wishFor(null), takeHost(settings));
    expect(screen.getByText('Start: C2 on the piano, or Space')).toBeDefined();
    press('Start');
    await until(isShown('Stop'));
    await passing(COUNTED_IN_MS);
    await playKey('KeyX');
    await passing(500);
    expect(fakeAudio.isSilent()).toBe(false);
    pressEscape();
    await expectQuiet(host);
    expect(onDone.mock.calls).toEqual([['take 1']]);
    const [kept] = host.takes.values();
    expect(kept?.events.map(({ kind }) => kind)).toEqual(['noteOn', 'noteOff']);
    expect(kept?.sources).toEqual([{ name: 'Computer keys', latencyMs: 0, splitMidi: null }]);
  });

  test('can be asked for at once, as Again does', async () => {
    const { host, leave } = await openPlaying(wishFor(null), takeHost(), true);
    await until(isShown('Stop'));
    await passing(COUNTED_IN_MS);
    expect(host.takes.size).toBe(1);
    leave();
    await expectQuiet(host);
  });

  test('has its last note until the cell of the closing note is over', async () => {
    const { host, onDone } = await openPlaying(wishFor(1));
    press('Start');
    await until(isShown('Stop'));
    await until(() => fakeAudio.heard().length > 0);
    // One bar of count-in, one of the form, then the downbeat after it.
    await passing(500 + 2000 - 40);
    await playKey('KeyX');
    await until(() => onDone.mock.calls.length > 0);
    expect(host.kept()).toEqual(['take 1']);
    await expectQuiet(host);
  });

  test('that nobody played to leads back to Start, and keeps no take', async () => {
    const { host, onDone, onBack } = await openPlaying(wishFor(null));
    press('Start');
    await passing(4_000);
    pressEscape();
    await expectQuiet(host);
    expect(screen.getByRole('button', { name: 'Start' })).toBeDefined();
    expect(host.kept()).toEqual([]);
    expect([onDone.mock.calls.length, onBack.mock.calls.length]).toEqual([0, 0]);
    pressEscape();
    await passing(20);
    expect(onBack).toHaveBeenCalledOnce();
  });

  test('that is refused says why, and can be started again', async () => {
    const host = takeHost();
    host.state.isBusy = true;
    const { leave } = await openPlaying(wishFor(null), host);
    press('Start');
    await until(isShown(/A take is being played in another window\. Stop it there/));
    await expectQuiet(host);
    host.state.isBusy = false;
    press('Start');
    await until(isShown('Stop'));
    expect(screen.queryByText(/another window/)).toBeNull();
    leave();
    await expectQuiet(host);
  });

  test('whose host is gone waits at its end, says so, and loses no note when it is back', async () => {
    const { host, onDone } = await openPlaying(wishFor(null));
    press('Start');
    await passing(COUNTED_IN_MS + 500);
    await playKey('KeyX');
    host.state.isAway = true;
    await playKey('KeyC');
    pressEscape();
    await passing(2_000);
    expect(screen.getByText(/does not answer.*kept here and handed in/)).toBeDefined();
    expect(fakeAudio.isSilent()).toBe(true);
    pressEscape();
    await passing(2_000);
    expect(onDone).not.toHaveBeenCalled();
    host.state.isAway = false;
    await until(() => onDone.mock.calls.length > 0);
    const [take] = host.takes.values();
    expect(take?.events.filter(({ kind }) => kind === 'noteOn')).toHaveLength(2);
    await expectQuiet(host);
  });
});

/** Into the next take: in the lead of its sound, in it, and in its count-in. */
const INTO_NEXT_MS = [60, 180, 1500];

describe('Stop between two takes opens the take just played', () => {
  async function playFirst(wish: RunWish, next: RegExp) {
    const opened = await openPlaying(wish);
    press('Start');
    if (wish.heard !== null) await until(isShown('Answer: your chorus.'));
    await passing(COUNTED_IN_MS + 300);
    await playKey('KeyX');
    await until(isShown(next));
    return opened;
  }

  test.each(INTO_NEXT_MS)('of a key cycle, %i ms into the next', async (intoMs) => {
    const wish = wishFor(1, { keyCycle: 'fourths' });
    const { host, onDone } = await playFirst(wish, /^Now in F:/);
    await passing(intoMs);
    pressEscape();
    await expectQuiet(host);
    expect(onDone.mock.calls).toEqual([['take 1']]);
    expect(host.kept()).toEqual(['take 1']);
  });

  test.each(INTO_NEXT_MS)('of answered examples, %i ms into the next', async (intoMs) => {
    const wish = wishFor(1, { heard: HEARD });
    const { host, onDone } = await playFirst(wish, /^Once more|^Listen/);
    await passing(intoMs);
    pressEscape();
    await expectQuiet(host);
    expect(onDone.mock.calls).toEqual([['take 1']]);
    expect(host.kept()).toEqual(['take 1']);
  });

  test.each(INTO_NEXT_MS)('of a tempo that follows, %i ms into the next', async (intoMs) => {
    const { host, onDone } = await openPlaying(wishFor(null, { nudge: true }));
    press('Start');
    await until(isShown('Stop'));
    await passing(COUNTED_IN_MS);
    // A key now and then is no line: the tempo is eased.
    for (let beat = 0; beat < 30 && !isShown(/The count-in that follows is at/)(); beat++) {
      await playKey('KeyX', 100);
      await passing(300);
    }
    await until(isShown(/The count-in that follows is at/));
    await passing(intoMs);
    pressEscape();
    await expectQuiet(host);
    expect(onDone.mock.calls).toEqual([['take 1']]);
    expect(host.kept()).toEqual(['take 1']);
  });
});

describe('leaving', () => {
  test.each([0, 10, 100, 400, 700, 1200, 2600])('%i ms after Start', async (afterMs) => {
    const { host, leave } = await openPlaying(wishFor(null));
    press('Start');
    await passing(afterMs);
    leave();
    await expectQuiet(host);
    expect(host.kept()).toEqual([]);
  });

  test.each([0, 30, 300, 800, 2000])('%i ms into an example', async (afterMs) => {
    const { host, leave } = await openPlaying(wishFor(1, { heard: HEARD }));
    press('Start');
    await until(isShown(/^Listen/));
    await passing(afterMs);
    leave();
    await expectQuiet(host);
    expect(host.takes.size).toBe(0);
  });

  test('in mid-take keeps what was played, also when the host is gone just then', async () => {
    const { host, leave, onDone } = await openPlaying(wishFor(null));
    press('Start');
    await passing(COUNTED_IN_MS + 500);
    host.state.isAway = true;
    await playKey('KeyX');
    leave();
    await passing(2_000);
    expect(fakeAudio.isSilent()).toBe(true);
    host.state.isAway = false;
    await expectQuiet(host);
    expect(host.kept()).toEqual(['take 1']);
    expect(onDone).not.toHaveBeenCalled();
  });

  test('and coming back starts a second run as if there had been none', async () => {
    const host = takeHost();
    const first = await openPlaying(wishFor(null), host);
    press('Start');
    await passing(300);
    first.leave();
    const { onDone } = await openPlaying(wishFor(null), host);
    press('Start');
    await passing(COUNTED_IN_MS + 500);
    await playKey('KeyX');
    pressEscape();
    await expectQuiet(host);
    expect(onDone).toHaveBeenCalledOnce();
    expect(host.kept()).toHaveLength(1);
  });
});
