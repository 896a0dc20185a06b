/** The sessions of a month, of a day or of a search, and what can be done with them. */

import { type PracticeSession, sessionsCsv, takesCsv } from '../../../core/journal/index.ts';
import { fileName, saveFile } from '../../app/save-file.ts';
import { SessionCard } from './session-card.tsx';

/** More help nobody to find one; the rest is searched for more closely. Own choice. */
const SHOWN_AT_ONCE = 100;

interface SessionListProps {
  /** Newest first. */
  readonly sessions: readonly PracticeSession[];
  /** What they are of, as the name of a file. */
  readonly name: string;
  readonly utcOffsetMinutes: number;
  readonly onReview: (takeId: string) => void;
}

export function SessionList({ sessions, name, utcOffsetMinutes, onReview }: SessionListProps) {
  if (sessions.length === 0) return null;
  const hidden = sessions.length - SHOWN_AT_ONCE;
  const save = (what: string, csv: string): void =>
    saveFile(`${fileName(`journal ${name} ${what}`)}.csv`, csv, 'text/csv');
  return (
    <>
      {sessions.slice(0, SHOWN_AT_ONCE).map((session) => (
        <SessionCard key={session.takes[0]?.takeId} session={session} onReview={onReview} />
      ))}
      {hidden > 0 && <p>{hidden} more, older: search with another word to find them.</p>}
      <div className="row">
        <button
          type="button"
          onClick={() => save('sessions', sessionsCsv(sessions, utcOffsetMinutes))}
        >
          Save these sessions as CSV
        </button>
        <button type="button" onClick={() => save('takes', takesCsv(sessions, utcOffsetMinutes))}>
          Save their takes as CSV
        </button>
      </div>
    </>
  );
}
