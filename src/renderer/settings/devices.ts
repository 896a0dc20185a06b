/** What is remembered of a keyboard together with where the click comes from. Pure. */

import type { Device } from '../../../shared/bridge/index.ts';
import type { HandSettings } from '../prepare/practice-choice.ts';

/** The computer's own keys and sound, as devices. */
export const COMPUTER_KEYS = 'Computer keys';
export const COMPUTER_SOUND = 'this computer';

/**
 * The remembered device, or a fresh one. Split and channel belong to the keyboard alone: with another output they are
 * those it has elsewhere. Latency belongs to the pair.
 */
export function deviceFor(
  devices: readonly Device[],
  deviceName: string,
  midiOutput: string | null,
): Device {
  const outputName = midiOutput ?? COMPUTER_SOUND;
  const same = devices.filter((device) => device.deviceName === deviceName);
  const exact = same.find((device) => device.outputName === outputName);
  if (exact !== undefined) return exact;
  const { splitMidi = null, channel = null } = same[0] ?? {};
  return { deviceName, outputName, latencyMs: 0, spreadMs: null, splitMidi, channel };
}

/** What a device adds to a take. */
export function handOf({ deviceName, latencyMs, splitMidi }: Device): HandSettings {
  return { deviceName, latencyMs, splitMidi };
}
