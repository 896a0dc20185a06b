/** A remark of the player's own, saved as it is typed. */

import { useEffect, useEffectEvent, useRef, useState } from 'react';

interface RemarkFieldProps {
  readonly label: string;
  /** What is stored; read when the field is first drawn. */
  readonly text: string;
  /** Stores a text; answers what went wrong, or null. */
  readonly onSave: (text: string) => Promise<string | null>;
}

/** Waits for a rest in the typing, so that not every letter is written to disk. Own choice. */
const REST_MS = 600;

export function RemarkField({ label, text: stored, onSave }: RemarkFieldProps) {
  const [text, setText] = useState(stored);
  const [state, setState] = useState('');
  const unsaved = useRef<string | null>(null);
  function save(): void {
    const typed = unsaved.current;
    if (typed === null) return;
    unsaved.current = null;
    void onSave(typed).then((failure) => setState(failure ?? 'Saved.'));
  }
  const saveByItself = useEffectEvent(save);
  useEffect(() => {
    if (unsaved.current !== text) return;
    const timer = setTimeout(() => saveByItself(), REST_MS);
    return () => clearTimeout(timer);
  }, [text]);
  // Who leaves the screen before the rest is over has typed it all the same.
  useEffect(() => () => saveByItself(), []);
  return (
    <label className="field remark">
      {label}
      <textarea
        rows={2}
        maxLength={10_000}
        value={text}
        onChange={(event) => {
          unsaved.current = event.target.value;
          setState('');
          setText(event.target.value);
        }}
        onBlur={save}
      />
      <span className="soft" role="status">
        {state}
      </span>
    </label>
  );
}
