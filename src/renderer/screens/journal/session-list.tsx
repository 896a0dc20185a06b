/** The sessions of a month, of a day or of a search, and what can be done with them. */

import { useState } from 'react';
import { type PracticeSession, sessionsCsv, takesCsv } from '../../../core/journal/index.ts';
import { fileName, saveFile } from '../../app/save-file.ts';
import { SessionCard } from './session-card.tsx';

/** A month of diligence is a page of many screens: the newest show first how it went. Own choice. */
const SHOWN_AT_FIRST = 10;
/** More help nobody to find one; the rest is searched for more closely. Own choice. */
const SHOWN_AT_MOST = 100;

interface SessionListProps {
  /** Newest first. */
  readonly sessions: readonly PracticeSession[];
  /** What they are of, as the name of a file. */
  readonly name: string;
  readonly onReview: (takeId: string) => void;
}

export function SessionList({ sessions, name, onReview }: SessionListProps) {
  const [areAllShown, setAllShown] = useState(false);
  if (sessions.length === 0) return null;
  const shown = sessions.slice(0, areAllShown ? SHOWN_AT_MOST : SHOWN_AT_FIRST);
  const hidden = sessions.length - SHOWN_AT_MOST;
  const save = (what: string, csv: string): void =>
    saveFile(`${fileName(`journal ${name} ${what}`)}.csv`, csv, 'text/csv');
  return (
    <>
      {sessions.length > SHOWN_AT_FIRST && (
        <p>
          <button
            type="button"
            aria-expanded={areAllShown}
            onClick={() => setAllShown(!areAllShown)}
          >
            {areAllShown
              ? `Show the newest ${SHOWN_AT_FIRST} alone`
              : `Show ${hidden > 0 ? SHOWN_AT_MOST : `all ${sessions.length}`} sessions`}
          </button>
        </p>
      )}
      {shown.map((session) => (
        <SessionCard key={session.takes[0]?.takeId} session={session} onReview={onReview} />
      ))}
      {areAllShown && hidden > 0 && (
        <p>{hidden} more, older: search with another word to find them.</p>
      )}
      <div className="row">
        <button type="button" onClick={() => save('sessions', sessionsCsv(sessions))}>
          Save these sessions as CSV
        </button>
        <button type="button" onClick={() => save('takes', takesCsv(sessions))}>
          Save their takes as CSV
        </button>
      </div>
    </>
  );
}
