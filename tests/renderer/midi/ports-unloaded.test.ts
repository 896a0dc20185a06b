/** A page that cannot load the MIDI library any more. */

import { expect, test, vi } from 'vitest';
import { type KeyboardsState, listenToPorts } from '../../../src/renderer/midi/ports.ts';

vi.mock('webmidi', () => {
  throw new Error('not found');
});

test('MIDI that cannot be loaded is missing, in words', async () => {
  vi.stubGlobal('navigator', { requestMIDIAccess: () => {} });
  const states: KeyboardsState[] = [];
  const onState = (state: KeyboardsState): void => void states.push(state);
  const { signal } = new AbortController();
  await listenToPorts({ onKey: () => {}, onState, channelOf: () => null }, signal);
  expect(states).toEqual([
    { kind: 'missing', sentence: expect.stringContaining('Load the page again') },
  ]);
  vi.unstubAllGlobals();
});
