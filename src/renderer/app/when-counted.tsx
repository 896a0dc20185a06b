/** What is told of all takes, once all are counted: after an update that takes a while, and a part of them would tell another story. */

import type { ReactNode } from 'react';
import { useAnswer } from '../data/index.ts';
import { refusalWords } from './refusal-words.ts';

interface WhenCountedProps {
  /** Of the screen. */
  readonly heading: string;
  readonly children: ReactNode;
}

export function WhenCounted({ heading, children }: WhenCountedProps) {
  const { value } = useAnswer('library.state', {});
  if (value?.kind !== 'open' || value.counting === null) return children;
  const { done, of, problem } = value.counting;
  return (
    <>
      <h2 tabIndex={-1} data-focus-home>
        {heading}
      </h2>
      <p role="status">
        Once after an update, all takes are counted anew:{' '}
        <progress max={of} value={done} aria-label="Takes counted" /> {done} of {of}. You can play
        meanwhile; what you play is kept and counted.
      </p>
      {problem !== null && <p className="notice">The count waits. {refusalWords(problem)}</p>}
    </>
  );
}
