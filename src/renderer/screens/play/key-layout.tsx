/** The computer's keys as two octaves, in the places they have under the hands. */

import { KEY_LABELS, LOWEST_MIDI } from '../../midi/computer-keys.ts';

const NAMES = ['C', 'C♯', 'D', 'E♭', 'E', 'F', 'F♯', 'G', 'A♭', 'A', 'B♭', 'B'];
/** A first octave of twelve keys, then a second with the C above it. */
const OCTAVES = [
  { words: 'lower rows', from: 0, to: 12 },
  { words: 'upper rows', from: 12, to: 25 },
];

export function KeyLayout() {
  return (
    <details>
      <summary>The computer keys as two octaves from C4</summary>
      {OCTAVES.map(({ words, from, to }) => (
        <p key={words} className="key-row">
          <span className="soft">{words}</span>
          {KEY_LABELS.slice(from, to).map((label, index) => (
            <span key={label} className="key-cap">
              <kbd>{label}</kbd>
              <small>{NAMES[(LOWEST_MIDI + from + index) % 12]}</small>
            </span>
          ))}
        </p>
      ))}
    </details>
  );
}
