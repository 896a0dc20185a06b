/** One session of practice: when, how long, what of each chart, the player's remark, and the way to its takes. */

import type { PracticeSession, SessionRemark } from '../../../core/journal/index.ts';
import { useProgram } from '../../app/program.tsx';
import { refusalWords } from '../../app/refusal-words.ts';
import { RemarkField } from '../../app/remark-field.tsx';
import {
  describeChart,
  describeJournalTake,
  describeSession,
  sessionTitle,
} from './journal-model.ts';

interface SessionCardProps {
  readonly session: PracticeSession;
  readonly onReview: (takeId: string) => void;
}

export function SessionCard({ session, onReview }: SessionCardProps) {
  const { startMs, charts, takes, remarks } = session;
  const title = sessionTitle(session);
  const shown = remarks.length > 0 ? remarks : [{ atMs: startMs, text: '' }];
  return (
    <section className="session" aria-label={title}>
      <h3>{title}</h3>
      <p>{describeSession(session)}</p>
      <ul className="plain-list">
        {charts.map((chart) => (
          <li key={chart.chartId}>
            <strong>{chart.chartTitle}</strong>, {describeChart(chart)}
          </li>
        ))}
      </ul>
      <details>
        <summary>Takes of this session</summary>
        <ul className="plain-list">
          {takes.map((take) => (
            <li key={take.takeId}>
              <button type="button" onClick={() => onReview(take.takeId)}>
                {describeJournalTake(take)}
              </button>
              {take.note !== '' && <p className="soft take-note">{take.note}</p>}
            </li>
          ))}
        </ul>
      </details>
      {shown.map((remark) => (
        <StoredRemark key={remark.atMs} remark={remark} label="A remark on this session" />
      ))}
    </section>
  );
}

interface StoredRemarkProps {
  readonly remark: SessionRemark;
  readonly label: string;
}

/** The remark of a moment, stored as it is typed. */
export function StoredRemark({ remark, label }: StoredRemarkProps) {
  const { bridge } = useProgram();
  const { atMs, text } = remark;
  return (
    <RemarkField
      label={label}
      text={text}
      onSave={async (typed) => {
        const reply = await bridge.ask('journal.remark', { atMs, text: typed });
        return reply.ok ? null : refusalWords(reply.refusal);
      }}
    />
  );
}
