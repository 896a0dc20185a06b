// @vitest-environment happy-dom
/** Whose keys the computer sounds. Own rule: those that have no voice of their own. */

import { act, cleanup, screen } from '@testing-library/react';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import type { OnKey } from '../../../src/renderer/midi/keyboards.ts';
import { useSoundedKeys } from '../../../src/renderer/midi/use-sounded-keys.ts';
import { COMPUTER_KEYS } from '../../../src/renderer/settings/devices.ts';
import {
  readPlayerSettings,
  type SoundSettings,
} from '../../../src/renderer/settings/player-settings.ts';
import { fakeHost, renderInProgram } from '../../helpers/program-around.tsx';

/** What was sounded: the how-manieth way out, and the kind of key. */
let sounded: string[];
let sound: OnKey;

vi.mock('../../../src/renderer/audio/index.ts', async (actual) => {
  let opened = 0;
  return {
    ...(await actual<object>()),
    createTransport: () => ({
      isWithheld: () => false,
      onState: () => {},
      soundKeys() {
        const way = ++opened;
        return {
          key: ({ kind }: { readonly kind: string }) => void sounded.push(`${way} ${kind}`),
          close: () => void sounded.push(`${way} closed`),
        };
      },
    }),
  };
});

function Sounding() {
  sound = useSoundedKeys();
  return <p>drawn</p>;
}

async function draw(soundKeys?: SoundSettings['soundKeys']) {
  const first = readPlayerSettings({});
  const settings =
    soundKeys === undefined ? first : { ...first, sound: { ...first.sound, soundKeys } };
  const drawn = renderInProgram(<Sounding />, fakeHost({ settings }));
  await screen.findByText('drawn');
  return drawn;
}

function play(deviceName: string): void {
  act(() => {
    sound({ kind: 'noteOn', atMs: 1, midi: 60, velocity: 80 }, deviceName);
    sound({ kind: 'noteOff', atMs: 2, midi: 60 }, deviceName);
  });
}

beforeEach(() => {
  sounded = [];
});
afterEach(cleanup);

/** The ways out without their numbers, which go on from test to test. */
const kinds = () => sounded.map((what) => what.split(' ')[1]);

test('unless the player says otherwise it is the computer keys', async () => {
  const { unmount } = await draw();
  play('Piano');
  expect(sounded).toEqual([]);
  play(COMPUTER_KEYS);
  expect(kinds()).toEqual(['noteOn', 'noteOff']);
  unmount();
  expect(kinds()).toEqual(['noteOn', 'noteOff', 'closed']);
});

test('every keyboard has a way out of its own, so that none ends the notes of another', async () => {
  await draw('all');
  play('Piano');
  play(COMPUTER_KEYS);
  play('Piano');
  const ways = sounded.map((what) => what.split(' ')[0]);
  expect(new Set(ways).size).toBe(2);
  expect(ways.slice(0, 2)).toEqual(ways.slice(4, 6));
});

test('none is sounded where the player wants none', async () => {
  await draw('none');
  play('Piano');
  play(COMPUTER_KEYS);
  expect(sounded).toEqual([]);
});
