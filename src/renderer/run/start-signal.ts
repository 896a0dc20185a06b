/** What starts and stops a take from the piano. Pure. */

import type { PlayedKey } from '../session/live-take.ts';
import type { StartSignal } from '../settings/player-settings.ts';

/** Whether a key played is the signal the player has set. */
export function isSignal(key: PlayedKey, signal: StartSignal): boolean {
  if (signal.kind === 'note') return key.kind === 'noteOn' && key.midi === signal.midi;
  return signal.kind === 'pedal' && key.kind === 'pedal' && key.down;
}
