/** What is remembered of a keyboard together with where the click comes from. Pure. */

import type { Device } from '../../../shared/bridge/index.ts';
import type { TakeSource } from '../../core/take/model.ts';

/** The computer's own keys and sound, as devices. */
export const COMPUTER_KEYS = 'Computer keys';
export const COMPUTER_SOUND = 'this computer';

/**
 * The remembered device, or a fresh one. Split and channel belong to the keyboard: where they are not set with this output,
 * they are those it has elsewhere. Latency belongs to the pair.
 */
export function deviceFor(
  devices: readonly Device[],
  deviceName: string,
  midiOutput: string | null,
): Device {
  const outputName = midiOutput ?? COMPUTER_SOUND;
  const same = devices.filter((device) => device.deviceName === deviceName);
  const exact = same.find((device) => device.outputName === outputName);
  const { latencyMs, spreadMs } = exact ?? { latencyMs: 0, spreadMs: null };
  const splitMidi = exact?.splitMidi ?? same.find((other) => other.splitMidi !== null)?.splitMidi;
  const channel = exact?.channel ?? same.find((other) => other.channel !== null)?.channel;
  return {
    deviceName,
    outputName,
    latencyMs,
    spreadMs,
    splitMidi: splitMidi ?? null,
    channel: channel ?? null,
  };
}

/** Whether nobody has said yet how late the keys of a keyboard arrive: neither a calibration nor a figure set by hand. */
export function isUncalibrated({ deviceName, latencyMs, spreadMs }: Device): boolean {
  return deviceName !== COMPUTER_KEYS && spreadMs === null && latencyMs === 0;
}

/** A device as a source of a take. */
export function sourceOfDevice({ deviceName, latencyMs, splitMidi }: Device): TakeSource {
  return { name: deviceName, latencyMs, splitMidi };
}
