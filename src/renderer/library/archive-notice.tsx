/** How far an export or import is, and what came of it. */

import type { ArchiveState } from './use-archive.ts';
import './library.css';

export function ArchiveNotice({ state }: { readonly state: ArchiveState }) {
  switch (state.kind) {
    case 'idle':
      return null;
    case 'working':
      return (
        <p role="status">
          <progress
            aria-label={state.what}
            {...(state.share === null ? {} : { value: state.share })}
          />{' '}
          {state.what} …
        </p>
      );
    case 'failed':
      return (
        <p className="notice" role="alert">
          {state.words}
        </p>
      );
    case 'done':
      return (
        <div className="notice archive-done" role="status">
          <p>{state.words}</p>
          {state.lines.length > 0 && (
            <ul>
              {/* Two takes may be told in the same words. */}
              {[...new Set(state.lines)].map((line) => (
                <li key={line}>{line}</li>
              ))}
            </ul>
          )}
        </div>
      );
  }
}
