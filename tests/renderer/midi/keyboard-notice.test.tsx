// @vitest-environment happy-dom
/** What is said of keyboards before a take. Own rules. */

import { cleanup, fireEvent, screen } from '@testing-library/react';
import { afterEach, describe, expect, test, vi } from 'vitest';
import type { Device } from '../../../shared/bridge/index.ts';
import { KeyboardNotice } from '../../../src/renderer/midi/keyboard-notice.tsx';
import type { KeyboardsState } from '../../../src/renderer/midi/ports.ts';
import { readPlayerSettings } from '../../../src/renderer/settings/player-settings.ts';
import { fakeHost, renderInProgram } from '../../helpers/program-around.tsx';

const PIANO: Device = {
  ...{ deviceName: 'Piano', outputName: 'this computer', latencyMs: 80, spreadMs: 4.5 },
  ...{ splitMidi: 60, channel: null },
};
const OUTPUT = { ...readPlayerSettings({}).sound, midiOutput: 'Expander' };
const WITH_EXPANDER = { ...readPlayerSettings({}), sound: OUTPUT };

const ports = (...names: readonly string[]): KeyboardsState => ({
  kind: 'ready',
  names,
  outputs: [],
});

afterEach(cleanup);

describe('keyboards before a take', () => {
  test('are told with their calibration, and one without leads to it', async () => {
    const calibrate = vi.fn();
    renderInProgram(
      <KeyboardNotice state={ports('Piano', 'Organ')} onCalibrate={calibrate} />,
      fakeHost({ devices: [PIANO] }),
    );
    await screen.findByText('Piano: calibrated with this computer: 80.0 ms, spread 4.5 ms');
    expect(screen.getAllByRole('button')).toHaveLength(1);
    fireEvent.click(screen.getByRole('button', { name: 'Calibrate Organ' }));
    expect(calibrate.mock.calls).toEqual([['Organ']]);
  });

  test('are calibrated with the output in use, not with another', async () => {
    renderInProgram(
      <KeyboardNotice state={ports('Piano')} onCalibrate={() => {}} />,
      fakeHost({ devices: [PIANO], settings: WITH_EXPANDER }),
    );
    expect((await screen.findByRole('listitem')).textContent).toContain(
      'never calibrated with Expander',
    );
  });

  test('are told as set by hand where they were', async () => {
    renderInProgram(
      <KeyboardNotice state={ports('Piano')} onCalibrate={() => {}} />,
      fakeHost({ devices: [{ ...PIANO, spreadMs: null }] }),
    );
    await screen.findByText('Piano: set by hand with this computer: 80.0 ms');
  });

  test.each([
    ['none is there', ports()],
    ['nothing is known yet', null],
    ['there is no MIDI', { kind: 'missing', sentence: 'This browser has no MIDI.' } as const],
  ])('are not asked for where %s', async (_words, state) => {
    renderInProgram(
      <>
        <KeyboardNotice state={state} onCalibrate={() => {}} />
        <p>drawn</p>
      </>,
    );
    await screen.findByText('drawn');
    expect(screen.queryByRole('listitem')).toBeNull();
  });
});
