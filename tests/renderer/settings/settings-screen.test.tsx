// @vitest-environment happy-dom
/** What is set of keyboards, and whose keys are sounded. The MIDI library is stood in for. Own rules. */

import { act, cleanup, fireEvent, screen, within } from '@testing-library/react';
import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import type { Device } from '../../../shared/bridge/index.ts';
import SettingsScreen from '../../../src/renderer/screens/settings/settings-screen.tsx';
import { readPlayerSettings } from '../../../src/renderer/settings/player-settings.ts';
import { FakeInput, plugIn } from '../../helpers/fake-webmidi.ts';
import { type FakeHost, fakeHost, renderInProgram } from '../../helpers/program-around.tsx';

vi.mock('webmidi', () => import('../../helpers/fake-webmidi.ts'));

const PIANO: Device = {
  ...{ deviceName: 'Piano', outputName: 'this computer', latencyMs: 80, spreadMs: 4.5 },
  ...{ splitMidi: null, channel: null },
};
const LIBRARY = { kind: 'open', folder: '/home', backups: [], problem: null, counting: null };
const first = new FakeInput('1', 'Piano');
const second = new FakeInput('2', 'Piano');
const calibrate = vi.fn();

async function draw(contents: Parameters<typeof fakeHost>[0] = {}): Promise<FakeHost> {
  const host = fakeHost({ answers: { 'library.state': () => LIBRARY }, ...contents });
  renderInProgram(<SettingsScreen onCalibrate={calibrate} />, host);
  await act(() => vi.dynamicImportSettled());
  await screen.findByText(/^Listening to/);
  return host;
}

const keyboard = (name: string) => within(screen.getByRole('region', { name }));
const saved = ({ asked }: FakeHost) =>
  asked.filter(({ name }) => name === 'devices.save').map(({ request }) => request);

beforeEach(() => {
  Object.defineProperty(navigator, 'requestMIDIAccess', { value: () => {}, configurable: true });
  calibrate.mockClear();
  plugIn(first, second);
});
afterEach(() => {
  cleanup();
  plugIn();
});

test('a split is set by a key of its own keyboard, and of no other of the same name', async () => {
  const host = await draw({ devices: [PIANO] });
  fireEvent.click(keyboard('Piano').getByRole('button', { name: 'Set the split by a key' }));
  act(() => second.say([0x90, 48, 80]));
  expect(saved(host)).toEqual([]);
  act(() => first.say([0x90, 60, 80]));
  act(() => first.say([0x90, 62, 80]));
  expect(saved(host)).toEqual([{ device: { ...PIANO, splitMidi: 60 } }]);
});

test('each keyboard is told with its calibration and leads to its own', async () => {
  await draw({ devices: [PIANO] });
  keyboard('Piano').getByText('calibrated with this computer: 80.0 ms, spread 4.5 ms');
  keyboard('Piano (2)').getByText('never calibrated with this computer');
  expect(keyboard('Computer keys').queryByText(/calibrated/)).toBeNull();
  fireEvent.click(keyboard('Piano (2)').getByRole('button', { name: 'Calibrate' }));
  expect(calibrate.mock.calls).toEqual([['Piano (2)']]);
});

test('latency and channel are kept of the keyboard with the output in use', async () => {
  const settings = readPlayerSettings({});
  const host = await draw({
    devices: [PIANO],
    settings: { ...settings, sound: { ...settings.sound, midiOutput: 'Expander' } },
  });
  fireEvent.change(keyboard('Piano').getByLabelText('Latency with Expander, ms'), {
    target: { value: '12.5' },
  });
  fireEvent.change(keyboard('Piano').getByLabelText('Channel'), { target: { value: '3' } });
  const expander = { ...PIANO, outputName: 'Expander', latencyMs: 0, spreadMs: null };
  expect(saved(host)).toEqual([
    { device: { ...expander, latencyMs: 12.5 } },
    { device: { ...expander, channel: 3 } },
  ]);
});

test('a pedal starts takes once it is pressed, however many values it sends', async () => {
  const host = await draw();
  fireEvent.click(screen.getByRole('button', { name: 'Start from the piano' }));
  act(() => {
    for (const value of [20, 118, 95, 70]) second.say([0xb0, 64, value]);
  });
  screen.getByText('The sustain pedal starts and stops a take.');
  expect(host.asked.filter(({ name }) => name === 'settings.set')).toHaveLength(1);
});

test('whose keys are sounded is chosen among three', async () => {
  const host = await draw();
  const field = screen.getByLabelText('The computer sounds the keys of');
  expect(within(field).getAllByRole('option')).toHaveLength(3);
  fireEvent.change(field, { target: { value: '1' } });
  const set = host.asked.find(({ name }) => name === 'settings.set');
  expect(set?.request).toMatchObject({ values: { player: { sound: { soundKeys: 'all' } } } });
});
