/** Settings: keyboards, sound, what starts a take, breaks, and how the program looks. */

import { useState } from 'react';
import type { Device } from '../../../../shared/bridge/index.ts';
import { useProgram } from '../../app/program.tsx';
import { CAUTION } from '../../app/words.ts';
import { useAnswer } from '../../data/index.ts';
import { FailureNotice } from '../../look/failure-notice.tsx';
import { NumberField, SelectField } from '../../look/fields.tsx';
import { calibrationWords } from '../../midi/calibration-words.ts';
import { keyName } from '../../midi/key-name.ts';
import { KeyboardWords } from '../../midi/keyboard-words.tsx';
import { useKeys } from '../../midi/use-keys.ts';
import { COMPUTER_KEYS, deviceFor } from '../../settings/devices.ts';
import { FARTHEST_M, NEAREST_M } from '../../settings/player-settings.ts';
import { SoundFields } from '../../settings/sound-fields.tsx';
import { LibraryFields } from './library-fields.tsx';

/** What the next key played is to be. */
type Waiting =
  | { readonly kind: 'nothing' }
  | { readonly kind: 'split'; readonly deviceName: string }
  | { readonly kind: 'signal' };

interface SettingsScreenProps {
  readonly onCalibrate: (device: string) => void;
}

export default function SettingsScreen({ onCalibrate }: SettingsScreenProps) {
  const { settings, changeSettings, devices, saveDevice } = useProgram();
  const [waiting, setWaiting] = useState<Waiting>({ kind: 'nothing' });
  const [failure, setFailure] = useState<string | null>(null);
  const { midiOutput } = settings.sound;
  const info = useAnswer('host.info', {});

  async function save(device: Device): Promise<void> {
    setFailure(await saveDevice(device));
  }

  const keyboards = useKeys((key, deviceName) => {
    if (waiting.kind === 'split' && key.kind === 'noteOn') {
      // Another keyboard has a split of its own.
      if (deviceName !== waiting.deviceName) return;
      setWaiting({ kind: 'nothing' });
      void save({ ...deviceFor(devices, deviceName, midiOutput), splitMidi: key.midi });
    }
    if (waiting.kind === 'signal') {
      if (key.kind === 'noteOn') {
        changeSettings({ ...settings, start: { kind: 'note', midi: key.midi } });
      } else if (key.kind === 'pedal' && key.down) {
        changeSettings({ ...settings, start: { kind: 'pedal' } });
      } else return;
      setWaiting({ kind: 'nothing' });
    }
  });
  const names = [...(keyboards?.kind === 'ready' ? keyboards.names : []), COMPUTER_KEYS];
  const outputs = keyboards?.kind === 'ready' ? keyboards.outputs : [];
  const known =
    midiOutput === null || outputs.includes(midiOutput) ? outputs : [midiOutput, ...outputs];

  return (
    <>
      <h2 tabIndex={-1} data-focus-home>
        Settings
      </h2>
      <FailureNotice words={failure} />
      <fieldset>
        <legend>Keyboards</legend>
        <p>
          <KeyboardWords state={keyboards} />
        </p>
        {names.map((name) => (
          <DeviceRow
            key={name}
            device={deviceFor(devices, name, midiOutput)}
            isWaiting={waiting.kind === 'split' && waiting.deviceName === name}
            onWait={() => setWaiting({ kind: 'split', deviceName: name })}
            onSave={(device) => void save(device)}
            onCalibrate={() => onCalibrate(name)}
          />
        ))}
        <div className="row">
          <span>
            {settings.start.kind === 'none' && 'A take starts with the button on the screen.'}
            {settings.start.kind === 'pedal' && 'The sustain pedal starts and stops a take.'}
            {settings.start.kind === 'note' &&
              `The key ${keyName(settings.start.midi)} starts and stops a take.`}
          </span>
          <button
            type="button"
            aria-pressed={waiting.kind === 'signal'}
            onClick={() => setWaiting({ kind: 'signal' })}
          >
            {waiting.kind === 'signal'
              ? 'Play the key or press the pedal …'
              : 'Start from the piano'}
          </button>
          {settings.start.kind !== 'none' && (
            <button
              type="button"
              onClick={() => changeSettings({ ...settings, start: { kind: 'none' } })}
            >
              Start from the screen only
            </button>
          )}
        </div>
      </fieldset>
      <fieldset>
        <legend>Sound</legend>
        <SoundFields
          sound={settings.sound}
          onChange={(sound) => changeSettings({ ...settings, sound })}
        />
        <div className="row">
          <SelectField
            label="Click, bass, pad and lines sound from"
            value={midiOutput}
            options={[
              { value: null, words: 'this computer' },
              ...known.map((name) => ({ value: name, words: `MIDI: ${name}` })),
            ]}
            onChange={(output) =>
              changeSettings({ ...settings, sound: { ...settings.sound, midiOutput: output } })
            }
          />
          <SelectField
            label="The computer sounds the keys of"
            value={settings.sound.soundKeys}
            options={SOUNDED}
            onChange={(soundKeys) =>
              changeSettings({ ...settings, sound: { ...settings.sound, soundKeys } })
            }
          />
        </div>
      </fieldset>
      <fieldset>
        <legend>Breaks</legend>
        <NumberField
          label="Call for a break after so many minutes of playing"
          min={5}
          max={60}
          value={settings.breakEveryMinutes}
          onChange={(breakEveryMinutes) => changeSettings({ ...settings, breakEveryMinutes })}
        />
        <p className="soft caution">{CAUTION}</p>
      </fieldset>
      <fieldset>
        <legend>Look</legend>
        <div className="row">
          <SelectField
            label="Light"
            value={settings.look.theme}
            options={LIGHTS}
            onChange={(theme) => changeSettings({ ...settings, look: { ...settings.look, theme } })}
          />
          <NumberField
            label="From eyes to screen while playing, metres"
            min={NEAREST_M}
            max={FARTHEST_M}
            step={0.1}
            value={settings.look.distanceM}
            onChange={(distanceM) =>
              changeSettings({ ...settings, look: { ...settings.look, distanceM } })
            }
          />
        </div>
      </fieldset>
      <LibraryFields />
      <p className="soft">
        Linekeeper {info.value?.version}. Everything stays on this computer: no account, no network.
      </p>
    </>
  );
}

const LIGHTS = [
  { value: 'system', words: 'as the system' },
  { value: 'light', words: 'paper (light)' },
  { value: 'dark', words: 'night (dark)' },
] as const;

const SOUNDED = [
  { value: 'computerKeys', words: 'the computer keyboard' },
  { value: 'all', words: 'every keyboard' },
  { value: 'none', words: 'none' },
] as const;

interface DeviceRowProps {
  readonly device: Device;
  readonly isWaiting: boolean;
  readonly onWait: () => void;
  readonly onSave: (device: Device) => void;
  readonly onCalibrate: () => void;
}

const CHANNELS = [
  { value: null, words: 'all' },
  ...Array.from({ length: 16 }, (_, index) => ({ value: index + 1, words: `${index + 1}` })),
];

function DeviceRow({ device, isWaiting, onWait, onSave, onCalibrate }: DeviceRowProps) {
  const { deviceName, outputName, latencyMs, spreadMs, splitMidi, channel } = device;
  const isComputer = deviceName === COMPUTER_KEYS;
  return (
    <section className="device" aria-label={deviceName}>
      <h3>{deviceName}</h3>
      <div className="row">
        <NumberField
          label={`Latency with ${outputName}, ms`}
          min={-500}
          max={1000}
          step={0.1}
          value={latencyMs}
          onChange={(ms) => onSave({ ...device, latencyMs: ms, spreadMs: null })}
        />
        <button type="button" onClick={onCalibrate}>
          Calibrate
        </button>
        {(!isComputer || spreadMs !== null) && (
          <span className="soft">{calibrationWords(device)}</span>
        )}
        {!isComputer && (
          <SelectField
            label="Channel"
            value={channel}
            options={CHANNELS}
            onChange={(next) => onSave({ ...device, channel: next })}
          />
        )}
        <button type="button" aria-pressed={isWaiting} onClick={onWait}>
          {isWaiting ? 'Play the lowest key of the line …' : 'Set the split by a key'}
        </button>
        <span className="soft">
          {splitMidi === null
            ? 'no split: every key is the line'
            : `line from ${keyName(splitMidi)}`}
        </span>
        {splitMidi !== null && (
          <button type="button" onClick={() => onSave({ ...device, splitMidi: null })}>
            No split
          </button>
        )}
      </div>
    </section>
  );
}
