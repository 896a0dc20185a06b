/** A span of days on paper, for a teacher: how often, how long, and what became of each chart. */

import '../sheet/sheet.css';
import { useMemo, useState } from 'react';
import { counted } from '../../../core/findings/index.ts';
import {
  type ChartReport,
  describeMinutes,
  describePlayed,
  formatDay,
  parseDay,
  teacherReport,
} from '../../../core/journal/index.ts';
import { describeStanding, HOLDS_WORDS, practiceId } from '../../../core/progress/index.ts';
import { PLAIN } from '../../../core/words.ts';
import { CAUTION } from '../../app/words.ts';
import { useAnswer } from '../../data/index.ts';
import { CheckField } from '../../look/fields.tsx';
import { withSigns } from '../../look/signs.ts';
import { dateWords, FIRST_DAY, LAST_DAY, spanOf, today } from './journal-model.ts';
import { useJournal } from './use-journal.ts';

/** Four weeks: the time from lesson to lesson varies, and is set by hand. Own choice. */
const USUAL_DAYS = 28;

export function TeacherPage({ onBack }: { readonly onBack: () => void }) {
  const [toDay, setToDay] = useState(today);
  const [fromDay, setFromDay] = useState(toDay - USUAL_DAYS + 1);
  const [hasRemarks, setRemarks] = useState(false);
  const { journal, failure } = useJournal(spanOf(fromDay, toDay));
  const now = useAnswer('progress.practices', { most: null });
  const report = useMemo(() => {
    if (journal === null || now.value === null) return null;
    const standings = now.value.practices.map((row) => [practiceId(row), row.standing] as const);
    return teacherReport(journal.sessions, fromDay, toDay, new Map(standings));
  }, [journal, now.value, fromDay, toDay]);
  return (
    <>
      <div className="row on-screen">
        <button type="button" onClick={onBack}>
          ← Journal
        </button>
        <DayField label="From" day={fromDay} onDay={setFromDay} />
        <DayField label="To, and with it" day={toDay} onDay={setToDay} />
        <CheckField label="With my remarks" checked={hasRemarks} onChange={setRemarks} />
        <button type="button" className="main" onClick={() => window.print()}>
          Print, or save as PDF
        </button>
      </div>
      {(failure ?? now.failure) !== null && <p className="notice">{failure ?? now.failure}</p>}
      {fromDay > toDay && <p className="notice">The span ends before it begins: change a date.</p>}
      {report !== null && fromDay <= toDay && (
        <article className="sheet">
          <h1>
            Practice from {dateWords(fromDay)} to {dateWords(toDay)}
          </h1>
          {report.sessions === 0 ? (
            <p>Nothing was played in these days.</p>
          ) : (
            <p>
              Played on {report.daysPractised} of {counted(report.daysInSpan, 'day')}, in{' '}
              {counted(report.sessions, 'session')}, {describeMinutes(report.minutes)} in all,
              pauses not counted.
            </p>
          )}
          {report.charts.map((chart) => (
            <Chart key={chart.chartId} chart={chart} />
          ))}
          {hasRemarks && report.remarks.length > 0 && (
            <section>
              <h2>Remarks</h2>
              <ul>
                {report.remarks.map(({ atMs, day, text }) => (
                  <li key={atMs} className="kept-lines">
                    {dateWords(day)}: {text}
                  </li>
                ))}
              </ul>
            </section>
          )}
          {report.sessions > 0 && (
            <p className="soft">
              What holds and what is due is told as of {dateWords(today())}. {HOLDS_WORDS}
            </p>
          )}
          <p className="caution">{CAUTION}</p>
        </article>
      )}
    </>
  );
}

function Chart({ chart }: { readonly chart: ChartReport }) {
  const { chartTitle, minutes, takes, practices } = chart;
  return (
    <section>
      <h2>{chartTitle}</h2>
      <p>
        {counted(takes, 'take')} in {describeMinutes(minutes)}.
      </p>
      <ul>
        {practices.map(({ plan, key, level, played, standing }) => (
          <li key={`${plan} ${key} ${level}`}>
            {level} in {withSigns(key)}
            {plan !== PLAIN && `, plan ${plan}`}: {describePlayed(played)}
            {standing !== null && ` ${describeStanding(standing)}`}
          </li>
        ))}
      </ul>
    </section>
  );
}

interface DayFieldProps {
  readonly label: string;
  readonly day: number;
  readonly onDay: (day: number) => void;
}

/** A date; what is half typed changes nothing yet. */
function DayField({ label, day, onDay }: DayFieldProps) {
  return (
    <label className="field">
      {label}
      <input
        type="date"
        required
        value={formatDay(day)}
        onChange={(event) => {
          const typed = parseDay(event.target.value);
          if (typed !== null && typed >= FIRST_DAY && typed <= LAST_DAY) onDay(typed);
        }}
      />
    </label>
  );
}
