// @vitest-environment happy-dom
/** The keys screens hear: one listener for the page, whatever screens come and go. The MIDI library is stood in for. */

import { act, cleanup, screen } from '@testing-library/react';
import { useState } from 'react';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { useKeys } from '../../../src/renderer/midi/use-keys.ts';
import type { PlayedKey } from '../../../src/renderer/session/live-take.ts';
import { COMPUTER_KEYS } from '../../../src/renderer/settings/devices.ts';
import { FakeInput, plugIn, portListeners, WebMidi } from '../../helpers/fake-webmidi.ts';
import { fakeHost, renderInProgram } from '../../helpers/program-around.tsx';

vi.mock('webmidi', () => import('../../helpers/fake-webmidi.ts'));

let heard: [string, string][];

function Listening({ as }: { readonly as: string }) {
  const state = useKeys(
    (key: PlayedKey, deviceName) => void heard.push([as + key.kind, deviceName]),
  );
  return <p>{state?.kind === 'ready' ? `${as} hears ${state.names.join(', ')}` : as}</p>;
}

/** Goes from screen to screen at a press. */
function Screens() {
  const [at, setAt] = useState(0);
  return (
    <>
      <button type="button" onClick={() => setAt(at + 1)}>
        on
      </button>
      <input aria-label="field" />
      <input aria-label="box" type="checkbox" />
      <select aria-label="list" />
      {/* biome-ignore lint/a11y/useSemanticElements: as the chart's editor is one */}
      <div role="textbox" tabIndex={0} aria-label="editor" />
      {at < 2 && <Listening key={at} as={`${at} `} />}
    </>
  );
}

async function settle(): Promise<void> {
  await act(() => vi.dynamicImportSettled());
}

function press(target: EventTarget, code: string, more: KeyboardEventInit = {}): void {
  for (const type of ['keydown', 'keyup']) {
    target.dispatchEvent(new KeyboardEvent(type, { code, bubbles: true, ...more }));
  }
}

const piano = new FakeInput('1', 'Piano');

beforeEach(() => {
  heard = [];
  WebMidi.enabled = 0;
  Object.defineProperty(navigator, 'requestMIDIAccess', { value: () => {}, configurable: true });
  plugIn(piano);
});
afterEach(() => {
  cleanup();
  plugIn();
});

test('one listener serves one screen after another, and the state is there at once', async () => {
  renderInProgram(<Screens />);
  await settle();
  await screen.findByText('0 hears Piano');
  piano.say([0x90, 60, 80]);
  act(() => screen.getByRole('button', { name: 'on' }).click());
  // Known already: nothing is drawn in between.
  screen.getByText('1 hears Piano');
  piano.say([0x80, 60, 0]);
  expect(heard).toEqual([
    ['0 noteOn', 'Piano'],
    ['1 noteOff', 'Piano'],
  ]);
  expect([WebMidi.enabled, portListeners(), piano.listenerCount('midimessage')]).toEqual([1, 1, 1]);
  act(() => screen.getByRole('button', { name: 'on' }).click());
  piano.say([0x90, 62, 80]);
  expect(heard).toHaveLength(2);
});

test('keyboards that come and go are drawn', async () => {
  renderInProgram(<Screens />);
  await settle();
  await screen.findByText('0 hears Piano');
  act(() => plugIn(piano, new FakeInput('2', 'Piano')));
  screen.getByText('0 hears Piano, Piano (2)');
  act(() => plugIn());
  screen.getByText('0 hears');
  expect(heard.map(([kind]) => kind)).toEqual(['0 allOff', '0 allOff']);
});

test('a keyboard is heard on the channel that is set for it', async () => {
  const device = {
    ...{ deviceName: 'Piano', outputName: 'this computer', latencyMs: 0, spreadMs: null },
    ...{ splitMidi: null, channel: 2 },
  };
  renderInProgram(<Screens />, fakeHost({ devices: [device] }));
  await settle();
  await screen.findByText('0 hears Piano');
  piano.say([0x90, 60, 80]);
  piano.say([0x91, 62, 80]);
  expect(heard).toEqual([['0 noteOn', 'Piano']]);
});

test('letters play the computer keys, and never where letters are typed', async () => {
  renderInProgram(<Screens />);
  await settle();
  await screen.findByText('0 hears Piano');
  press(document.body, 'KeyZ');
  press(screen.getByLabelText('box'), 'KeyX');
  const both = ['0 noteOn', '0 noteOff'].map((kind) => [kind, COMPUTER_KEYS]);
  expect(heard).toEqual([...both, ...both]);
  for (const place of ['field', 'list', 'editor']) press(screen.getByLabelText(place), 'KeyZ');
  press(document.body, 'KeyZ', { ctrlKey: true });
  press(document.body, 'KeyP');
  expect(heard).toHaveLength(4);
});

test('keys held when the window loses the keyboard are let go', async () => {
  renderInProgram(<Screens />);
  await settle();
  document.body.dispatchEvent(new KeyboardEvent('keydown', { code: 'KeyZ', bubbles: true }));
  window.dispatchEvent(new Event('blur'));
  window.dispatchEvent(new Event('blur'));
  expect(heard.map(([kind]) => kind)).toEqual(['0 noteOn', '0 noteOff']);
});

test('a page that is gone listens no more', async () => {
  const { unmount } = renderInProgram(<Screens />);
  await settle();
  await screen.findByText('0 hears Piano');
  unmount();
  expect([portListeners(), piano.listenerCount('midimessage')]).toEqual([0, 0]);
});
