/** The computer keyboard as two octaves of a piano, by the place of the keys, whatever their letters. */

import type { PlayedKey } from '../session/live-take.ts';
import { createPortTime } from './port-time.ts';

/** `KeyboardEvent.code` from C4: the two lower rows are the first octave, the two upper ones the second. */
const CODES = [
  'KeyZ',
  'KeyS',
  'KeyX',
  'KeyD',
  'KeyC',
  'KeyV',
  'KeyG',
  'KeyB',
  'KeyH',
  'KeyN',
  'KeyJ',
  'KeyM',
  'KeyQ',
  'Digit2',
  'KeyW',
  'Digit3',
  'KeyE',
  'KeyR',
  'Digit5',
  'KeyT',
  'Digit6',
  'KeyY',
  'Digit7',
  'KeyU',
  'KeyI',
] as const;

export const LOWEST_MIDI = 60;
/** The letters of the keys on an English keyboard, in the order of `CODES`; others have the same places. */
export const KEY_LABELS: readonly string[] = CODES.map((code) => code.replace(/^(Key|Digit)/, ''));

/** A computer's keys know no loudness. */
const VELOCITY = 80;

const MIDI_BY_CODE = new Map<string, number>(
  CODES.map((code, index) => [code, LOWEST_MIDI + index]),
);

/** The key of the piano that a computer key stands for, or null. */
export function midiOfCode(code: string): number | null {
  return MIDI_BY_CODE.get(code) ?? null;
}

/** Kinds of `input` into which no letter is typed. */
const TEXTLESS_INPUTS = new Set([
  ...['button', 'checkbox', 'color', 'file', 'image', 'radio', 'range', 'reset', 'submit'],
]);
/** What takes letters although it is no field of a form. Source: WAI-ARIA 1.2, roles. */
const TEXT_ROLES = '[role="textbox"], [role="searchbox"], [role="combobox"], [role="spinbutton"]';

/** Whether letters typed there are its own: fields, lists that look for what is typed, editors. */
function takesText(target: EventTarget | null): boolean {
  if (target instanceof HTMLInputElement) return !TEXTLESS_INPUTS.has(target.type);
  if (target instanceof HTMLTextAreaElement || target instanceof HTMLSelectElement) return true;
  return (
    target instanceof HTMLElement &&
    (target.isContentEditable || target.closest(TEXT_ROLES) !== null)
  );
}

/**
 * Plays computer keys until the signal is aborted; held keys are let go when the window loses the keyboard. Times are the
 * page's.
 */
export function listenToComputerKeys(
  target: Pick<Window, 'addEventListener'>,
  onKey: (key: PlayedKey) => void,
  signal: AbortSignal,
): void {
  const held = new Set<number>();
  const portTime = createPortTime();
  const timeOf = ({ timeStamp }: Event): number => {
    const nowMs = performance.now();
    return portTime(timeStamp, { nowMs, aliveMs: nowMs });
  };
  const isMeant = (event: KeyboardEvent): boolean =>
    !event.repeat &&
    !event.isComposing &&
    !event.ctrlKey &&
    !event.metaKey &&
    !event.altKey &&
    !takesText(event.target);

  target.addEventListener(
    'keydown',
    (event) => {
      const midi = midiOfCode(event.code);
      if (midi === null || !isMeant(event)) return;
      held.add(midi);
      onKey({ kind: 'noteOn', atMs: timeOf(event), midi, velocity: VELOCITY });
    },
    { signal },
  );
  target.addEventListener(
    'keyup',
    (event) => {
      const midi = midiOfCode(event.code);
      if (midi === null || !held.delete(midi)) return;
      onKey({ kind: 'noteOff', atMs: timeOf(event), midi });
    },
    { signal },
  );
  target.addEventListener(
    'blur',
    (event) => {
      for (const midi of held) onKey({ kind: 'noteOff', atMs: timeOf(event), midi });
      held.clear();
    },
    { signal },
  );
}
