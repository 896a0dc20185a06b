/** How sure it is when the keys of a keyboard arrive, in words. Pure. */

import type { Device } from '../../../shared/bridge/index.ts';
import { ms } from '../../core/findings/index.ts';
import { isUncalibrated } from '../settings/devices.ts';

export function calibrationWords(device: Device): string {
  const { outputName, latencyMs, spreadMs } = device;
  if (isUncalibrated(device)) return `never calibrated with ${outputName}`;
  return spreadMs === null
    ? `set by hand with ${outputName}: ${ms(latencyMs)}`
    : `calibrated with ${outputName}: ${ms(latencyMs)}, spread ${ms(spreadMs)}`;
}
