/** What starts and stops a run by hand, and what does it from the piano. */

import { useEffect, useRef } from 'react';
import { useProgram } from '../../app/program.tsx';
import {
  type Run,
  type RunSnapshot,
  startSignalWords,
  stateOf,
  stopSignalWords,
} from '../../run/index.ts';
import { toggleFullScreen } from './full-screen.ts';

interface PlayButtonsProps {
  readonly snapshot: RunSnapshot;
  readonly send: Run['actor']['send'];
}

export function PlayButtons({ snapshot, send }: PlayButtonsProps) {
  const { settings } = useProgram();
  const state = stateOf(snapshot);
  if (state === 'ready' || state === 'failed') {
    return <Resting hasTake={snapshot.context.lastTakeId !== null} send={send} />;
  }
  const signal = stopSignalWords(settings.start);
  const isEnding = state === 'ending' || state === 'ended' || state === 'left';
  return (
    <>
      <button
        type="button"
        className="main"
        data-focus-home
        disabled={isEnding}
        onClick={() => send({ type: 'STOP' })}
      >
        {isEnding ? (
          'Storing the take …'
        ) : (
          <>
            Stop<kbd>{signal === null ? 'Esc' : `Esc, ${signal}`}</kbd>
          </>
        )}
      </button>
      {snapshot.context.waiting !== null && (
        <button type="button" onClick={() => send({ type: 'LEAVE' })}>
          ← Charts
        </button>
      )}
    </>
  );
}

interface RestingProps extends Pick<PlayButtonsProps, 'send'> {
  readonly hasTake: boolean;
}

function Resting({ hasTake, send }: RestingProps) {
  const { settings } = useProgram();
  const start = useRef<HTMLButtonElement>(null);
  useEffect(() => start.current?.focus(), []);
  useEffect(() => {
    const leaving = new AbortController();
    window.addEventListener(
      'keydown',
      (event) => {
        // On a button or a field the key has a meaning of its own.
        if (event.key !== ' ' || event.repeat || event.target !== document.body) return;
        event.preventDefault();
        send({ type: 'START' });
      },
      { signal: leaving.signal },
    );
    return () => leaving.abort();
  }, [send]);
  const signal = startSignalWords(settings.start);
  return (
    <>
      <button type="button" className="main" ref={start} onClick={() => send({ type: 'START' })}>
        Start
      </button>
      <span className="start-words">
        {signal === null ? 'Start: Space' : `Start: ${signal}, or Space`}
      </span>
      <button type="button" onClick={() => void toggleFullScreen()}>
        Full screen<kbd>F</kbd>
      </button>
      {hasTake && (
        <button type="button" onClick={() => send({ type: 'STOP' })}>
          Review the last take
        </button>
      )}
      <button type="button" onClick={() => send({ type: 'LEAVE' })}>
        ← Charts
      </button>
    </>
  );
}
