/** The field in which a bar is typed. */

import { useLayoutEffect, useRef, useState } from 'react';

/** What typing in a bar ends with: which bar is typed next, if any. */
export type TypingEnd = 'next' | 'back' | 'stay';

/** Told what was typed in a bar, or null when it is to stay as it was. */
export type Typed = (bar: number, content: string | null, end: TypingEnd) => void;

interface BarFieldProps {
  /** From 0, or `PICKUP_PLACE`. */
  readonly bar: number;
  readonly label: string;
  readonly start: string;
  readonly isWrong: boolean;
  readonly onTyped: Typed;
}

/** Enter or Tab keeps what is typed and goes on to the next bar, Escape leaves the bar as it was. */
export function BarField({ bar, label, start, isWrong, onTyped }: BarFieldProps) {
  const [value, setValue] = useState(start);
  const field = useRef<HTMLInputElement>(null);
  const done = useRef(false);
  // With the drawing itself: the next key is for this field already.
  useLayoutEffect(() => {
    field.current?.focus();
    if (start.length > 1) field.current?.select();
  }, [start]);
  const end = (content: string | null, way: TypingEnd): void => {
    if (done.current) return;
    done.current = true;
    onTyped(bar, content, way);
  };
  return (
    <input
      ref={field}
      type="text"
      className="bar-field"
      aria-label={label}
      aria-invalid={isWrong}
      value={value}
      spellCheck={false}
      onChange={(event) => setValue(event.target.value)}
      onBlur={() => end(value, 'stay')}
      onKeyDown={(event) => {
        if (event.key === 'Enter') end(value, 'next');
        else if (event.key === 'Tab') end(value, event.shiftKey ? 'back' : 'next');
        else if (event.key === 'Escape') end(null, 'stay');
        else return;
        event.preventDefault();
        event.stopPropagation();
      }}
    />
  );
}
