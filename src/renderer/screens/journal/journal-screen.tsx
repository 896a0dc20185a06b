/** What was practised and when: a month at a time, session by session, and a page of it for a teacher. */

import './journal.css';
import { useMemo, useState } from 'react';
import { counted } from '../../../core/findings/index.ts';
import {
  type DatedRemark,
  describeMinutes,
  findInJournal,
  firstDayOf,
  formatDay,
  lastDayOf,
  monthOf,
  monthsLater,
  monthView,
  sameDateLater,
} from '../../../core/journal/index.ts';
import { BreakNotice } from '../../app/break-notice.tsx';
import { WhenCounted } from '../../app/when-counted.tsx';
import { CAUTION } from '../../app/words.ts';
import { useAnswer } from '../../data/index.ts';
import { dayWords, EVERYTHING, monthWords, spanOfMonth, today } from './journal-model.ts';
import { MonthGrid } from './month-grid.tsx';
import { StoredRemark } from './session-card.tsx';
import { SessionList } from './session-list.tsx';
import { TeacherPage } from './teacher-page.tsx';
import { useJournal } from './use-journal.ts';

interface JournalScreenProps {
  readonly onReview: (takeId: string) => void;
}

export default function JournalScreen({ onReview }: JournalScreenProps) {
  const [day, setDay] = useState(today);
  const [search, setSearch] = useState('');
  /** All years are fetched once somebody is about to search them. */
  const [isSearching, setSearching] = useState(false);
  const [isReport, setReport] = useState(false);
  if (isReport) {
    return (
      <WhenCounted heading="Report for a teacher">
        <TeacherPage onBack={() => setReport(false)} />
      </WhenCounted>
    );
  }
  return (
    <>
      <h2>Journal</h2>
      <BreakNotice playingSinceMs={null} />
      <p className="soft caution">{CAUTION}</p>
      <div className="row">
        <label className="field">
          Search titles, remarks, keys, levels
          <input
            type="search"
            value={search}
            onFocus={() => setSearching(true)}
            onChange={(event) => setSearch(event.target.value)}
          />
        </label>
        <button type="button" onClick={() => setReport(true)}>
          Report for a teacher
        </button>
      </div>
      {search.trim() === '' && <MonthPage day={day} onDay={setDay} onReview={onReview} />}
      {isSearching && <Found search={search} onReview={onReview} />}
    </>
  );
}

interface MonthPageProps extends JournalScreenProps {
  /** A day of the month shown. */
  readonly day: number;
  readonly onDay: (day: number) => void;
}

function MonthPage({ day, onDay, onReview }: MonthPageProps) {
  const [chosenDay, setChosenDay] = useState<number | null>(null);
  const month = monthOf(day);
  const { year, month: number } = month;
  const { journal, lastDay, failure } = useJournal(spanOfMonth(month));
  // Asked ahead: a step from month to month waits for nothing.
  useAnswer('journal.takes', spanOfMonth(monthsLater(month, -1)));
  useAnswer('journal.takes', spanOfMonth(monthsLater(month, 1)));
  const view = useMemo(
    () => monthView(journal?.sessions ?? [], { year, month: number }),
    [journal, year, number],
  );
  const isShown = (own: number): boolean =>
    chosenDay === null ? own >= firstDayOf(month) && own <= lastDayOf(month) : own === chosenDay;
  const sessions = journal?.sessions.filter((session) => isShown(session.day)) ?? [];
  const loose = journal?.looseRemarks.filter((remark) => isShown(remark.day)) ?? [];

  function move(next: number): void {
    if (monthWords(next) !== monthWords(day)) setChosenDay(null);
    onDay(next);
  }

  function choose(next: number): void {
    onDay(next);
    setChosenDay(next === chosenDay ? null : next);
  }

  const shownName = formatDay(chosenDay ?? day).slice(0, chosenDay === null ? 7 : 10);
  if (failure !== null) return <p className="notice">{failure}</p>;
  if (journal !== null && lastDay === null && journal.looseRemarks.length === 0)
    return <Beginning />;
  return (
    <>
      <div className="row month-row">
        <button type="button" onClick={() => move(sameDateLater(day, -1))}>
          ← Month before
        </button>
        <h3 aria-live="polite">{monthWords(day)}</h3>
        <button type="button" onClick={() => move(sameDateLater(day, 1))}>
          Month after →
        </button>
        <button type="button" onClick={() => move(today())}>
          Today
        </button>
      </div>
      <MonthGrid view={view} day={day} chosenDay={chosenDay} onMove={move} onChoose={choose} />
      <p>
        {journal === null && 'One moment …'}
        {journal !== null &&
          (view.daysPractised === 0
            ? 'Nothing was played in this month. '
            : `Played on ${counted(view.daysPractised, 'day')}: ${describeMinutes(view.minutes)}.`)}
        {view.daysPractised === 0 && lastDay !== null && (
          <button type="button" onClick={() => move(lastDay)}>
            Go to the last day played
          </button>
        )}
      </p>
      {journal !== null && chosenDay !== null && (
        <p className="row">
          {dayWords(chosenDay)} alone{sessions.length === 0 && ': nothing was played'}.
          <button type="button" onClick={() => setChosenDay(null)}>
            Show the whole month
          </button>
        </p>
      )}
      <LooseRemarks remarks={loose} />
      <SessionList key={shownName} sessions={sessions} name={shownName} onReview={onReview} />
    </>
  );
}

interface LooseRemarksProps {
  readonly remarks: readonly DatedRemark[];
}

/** Remarks stay when the takes they were made on are gone. */
function LooseRemarks({ remarks }: LooseRemarksProps) {
  return remarks.map((remark) => (
    <StoredRemark
      key={remark.atMs}
      remark={remark}
      label={`A remark on ${dayWords(remark.day)}, of which no take is left`}
    />
  ));
}

/** Nothing was played yet: what will stand here, and how to begin. */
function Beginning() {
  return (
    <p>
      Nothing to tell yet. Every take you play is kept, and this page fills by itself: takes less
      than half an hour apart make a session, with its length, its charts and tempos, and room for a
      remark of your own. Choose a chart under Charts and press Play, or open one of the demo takes
      there to see what a session looks like.
    </p>
  );
}

interface FoundProps extends JournalScreenProps {
  /** Without a word nothing is shown. */
  readonly search: string;
}

function Found({ search, onReview }: FoundProps) {
  const { journal, failure } = useJournal(EVERYTHING);
  const found = useMemo(
    () => (journal === null ? null : findInJournal(journal, search)),
    [journal, search],
  );
  if (search.trim() === '') return null;
  if (failure !== null) return <p className="notice">{failure}</p>;
  if (found === null) return <p>One moment …</p>;
  const { sessions, looseRemarks } = found;
  return (
    <>
      <p role="status">
        {counted(sessions.length, 'session')} of all years found
        {looseRemarks.length > 0 &&
          `, and ${counted(looseRemarks.length, 'remark')} of which no take is left`}
        .
      </p>
      <LooseRemarks remarks={looseRemarks} />
      <SessionList sessions={sessions} name={search} onReview={onReview} />
    </>
  );
}
