/** Which keyboards are there, and how late the keys of each arrive: asked for before a take, one press from measuring it. */

import './keyboard-notice.css';
import { useProgram } from '../app/program.tsx';
import { deviceFor, isUncalibrated } from '../settings/devices.ts';
import { calibrationWords } from './calibration-words.ts';
import type { KeyboardsState } from './ports.ts';

interface KeyboardNoticeProps {
  readonly state: KeyboardsState | null;
  /** Leads to calibrating a keyboard. */
  readonly onCalibrate: (deviceName: string) => void;
}

/** Nothing where only the computer keys are: they need no calibrating. */
export function KeyboardNotice({ state, onCalibrate }: KeyboardNoticeProps) {
  const { devices, settings } = useProgram();
  if (state?.kind !== 'ready' || state.names.length === 0) return null;
  return (
    <ul className="keyboard-notice" aria-label="Keyboards">
      {state.names.map((name) => {
        const device = deviceFor(devices, name, settings.sound.midiOutput);
        return isUncalibrated(device) ? (
          <li key={name} className="notice">
            <strong>{name}</strong> was {calibrationWords(device)}: right notes may be judged early
            or late.{' '}
            <button type="button" onClick={() => onCalibrate(name)}>
              Calibrate {name}
            </button>
          </li>
        ) : (
          <li key={name} className="soft">
            {name}: {calibrationWords(device)}
          </li>
        );
      })}
    </ul>
  );
}
