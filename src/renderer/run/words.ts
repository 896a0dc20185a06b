/** What a run says to the player. Pure. */

import { withSigns } from '../look/signs.ts';
import { keyName } from '../midi/key-name.ts';
import type { RunWish } from '../prepare/run-wish.ts';
import type { StartSignal } from '../settings/player-settings.ts';
import { type RunSnapshot, stateOf } from './machine.ts';

/** What follows now, or null while there is nothing to say. */
export function toldWords(snapshot: RunSnapshot, heard: RunWish['heard']): string | null {
  const { example, told } = snapshot.context;
  if (stateOf(snapshot) === 'hearing') return 'Listen; your chorus follows after the count-in.';
  if (example === null) return told;
  return heard?.purpose === 'toPlayBack' ? 'Now the very same line.' : 'Answer: your chorus.';
}

/** What starts a take from the piano: `C2 on the piano`; null: nothing does. */
export function startSignalWords(signal: StartSignal): string | null {
  if (signal.kind === 'none') return null;
  return signal.kind === 'pedal' ? 'the pedal' : `${withSigns(keyName(signal.midi))} on the piano`;
}

/** The same beside the button that stops: `C2`. */
export function stopSignalWords(signal: StartSignal): string | null {
  if (signal.kind === 'none') return null;
  return signal.kind === 'pedal' ? 'pedal' : withSigns(keyName(signal.midi));
}
