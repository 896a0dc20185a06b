/** Where the line broke: the page tinted by its clean rate, the line of each chorus, and what was found, place by place. */

import './review.css';
import { useEffect, useMemo, useState } from 'react';
import type { Bridge, TakeRecord } from '../../../../shared/bridge/index.ts';
import type { Form } from '../../../core/chart/index.ts';
import { cleanRates, type Finding, findings, percent } from '../../../core/findings/index.ts';
import { gradeTake, type Report } from '../../../core/grading/index.ts';
import { describeReadiness, evidenceOf, judgeReadiness } from '../../../core/progress/index.ts';
import { useCall } from '../../app/use-call.ts';
import { ChartPage } from '../../chart-page/chart-page.tsx';
import { LineInBar, LinePatterns } from '../../chart-page/line-in-bar.tsx';
import { prepareForm } from '../../prepare/prepare-form.ts';
import { drawChorus, registerFor } from '../play/line-model.ts';
import { ExportButtons } from './export-buttons.tsx';
import { breakStrength, chorusesOf } from './review-model.ts';
import { TimingPlot } from './timing-plot.tsx';

interface ReviewScreenProps {
  readonly bridge: Bridge;
  readonly takeId: string;
  readonly onBack: () => void;
}

export default function ReviewScreen({ bridge, takeId, onBack }: ReviewScreenProps) {
  const take = useCall(bridge, 'takes.get', { takeId });
  const record = take.value;
  return (
    <>
      <button type="button" onClick={onBack}>
        ← Charts
      </button>
      {take.failure !== null && <p className="notice">{take.failure}</p>}
      {record !== null && <Review bridge={bridge} record={record} onBack={onBack} />}
    </>
  );
}

interface Graded {
  readonly form: Form;
  readonly report: Report;
}

function Review({
  bridge,
  record,
  onBack,
}: {
  readonly bridge: Bridge;
  readonly record: TakeRecord;
  readonly onBack: () => void;
}) {
  const { setUp, row, events } = record;
  const graded = useMemo((): Graded | string => {
    const { plan, key, bars } = setUp;
    const prepared = prepareForm(setUp.chartText, { plan, key, bars });
    if (!prepared.ok) return prepared.problems.join('\n');
    const { form } = prepared.value;
    return { form, report: gradeTake(form, { events, endMs: row.endMs }, setUp.grade) };
  }, [setUp, events, row.endMs]);
  if (typeof graded === 'string') return <p className="notice">{graded}</p>;
  return <GradedReview bridge={bridge} record={record} graded={graded} onBack={onBack} />;
}

interface GradedReviewProps {
  readonly bridge: Bridge;
  readonly record: TakeRecord;
  readonly graded: Graded;
  readonly onBack: () => void;
}

function GradedReview({ bridge, record, graded, onBack }: GradedReviewProps) {
  const { form, report } = graded;
  const { takeId } = record.row;
  const [chorus, setChorus] = useState(1);
  const [place, setPlace] = useState<Finding['place']>(null);
  const rates = useMemo(() => cleanRates(report.bars), [report]);
  const register = useMemo(
    () => registerFor(report.slots.flatMap(({ note }) => (note === null ? [] : [note.midi]))),
    [report],
  );
  const drawings = useMemo(() => {
    const { level, slots: settled, changes } = report;
    const { slotsPerBeat } = record.setUp.grade;
    const source = { form, level, slotsPerBeat, settled, heard: new Map(), changes };
    return new Map(drawChorus(source, chorus, register).map((drawing) => [drawing.bar, drawing]));
  }, [form, report, record, chorus, register]);
  const choruses = chorusesOf(report);
  const { summary } = report;

  function show(found: Finding): void {
    if (found.place === null) return;
    setChorus(found.place.chorus);
    setPlace(found.place);
  }

  return (
    <>
      <h1>{report.chart}</h1>
      <p>
        {summary.cleanRate === null
          ? 'No note of the line was found in this take.'
          : `${summary.clean} of ${summary.slots} slots clean (${percent(summary.cleanRate)}), ${summary.changes.onTime} of ${summary.changes.counted} changes on time.`}{' '}
        <span className="soft">
          {report.level} at {report.tempo}, plan {report.plan}, in {record.setUp.key}
        </span>
      </p>
      <p>{readinessOf(report, form)}</p>
      <LinePatterns />
      <fieldset className="row chorus-row">
        <legend className="hidden-words">Chorus shown</legend>
        {choruses.map((number) => (
          <button
            key={number}
            type="button"
            aria-pressed={number === chorus}
            onClick={() => setChorus(number)}
          >
            chorus {number}
          </button>
        ))}
        <span className="soft">The darker a bar, the less of it was clean, over all choruses.</span>
      </fieldset>
      <ChartPage
        form={form}
        currentBar={place?.chorus === chorus ? place.bar : null}
        tintOf={({ bar }) => breakStrength(rates.get(bar) ?? null)}
      >
        {({ bar }) => (
          <>
            <LineInBar drawing={drawings.get(bar)} />
            <div className="bar-rate">
              {rates.has(bar) ? percent(rates.get(bar) ?? 0) : 'not played'}
            </div>
          </>
        )}
      </ChartPage>
      <Legend />
      <div className="findings">
        {findings(report).map(({ title, lines }) => (
          <section key={title}>
            <h2>{title}</h2>
            <ul className="plain-list">
              {lines.map((line) => (
                <li key={line.text}>
                  {line.place === null ? (
                    line.text
                  ) : (
                    <button type="button" className="finding" onClick={() => show(line)}>
                      {line.text}
                    </button>
                  )}
                </li>
              ))}
            </ul>
          </section>
        ))}
      </div>
      <TimingPlot report={report} />
      <Remark bridge={bridge} takeId={takeId} note={record.row.note} />
      <div className="row">
        <ExportButtons record={record} form={form} report={report} />
        <DeleteTake bridge={bridge} takeId={takeId} onBack={onBack} />
      </div>
    </>
  );
}

function readinessOf(report: Report, form: Form): string {
  const verdict = judgeReadiness([evidenceOf(report, form, 0)], report.tempo, 0);
  return describeReadiness(verdict, report.tempo);
}

/** The words for the shapes on the page. */
function Legend() {
  return (
    <p className="soft legend">
      A dot is clean, a diamond outside, a triangle an interval that is not open, a short bar before
      or after a note early or late, a ring an extra, a dashed line a gap. A stem at the foot marks
      a change that came on time, a hatch how long the old palette hung on.
    </p>
  );
}

function Remark({
  bridge,
  takeId,
  note,
}: {
  readonly bridge: Bridge;
  readonly takeId: string;
  readonly note: string;
}) {
  const [text, setText] = useState(note);
  const [state, setState] = useState('');
  useEffect(() => {
    if (text === note) return;
    const timer = setTimeout(() => {
      void bridge.ask('takes.note', { takeId, note: text }).then((reply) => {
        setState(reply.ok ? 'Saved.' : `${reply.refusal.message} ${reply.refusal.remedy}`);
      });
    }, 600);
    return () => clearTimeout(timer);
  }, [bridge, takeId, note, text]);
  return (
    <label className="field remark">
      A remark to yourself
      <textarea
        rows={2}
        maxLength={10_000}
        value={text}
        onChange={(event) => {
          setState('');
          setText(event.target.value);
        }}
      />
      <span className="soft" role="status">
        {state}
      </span>
    </label>
  );
}

interface DeleteTakeProps {
  readonly bridge: Bridge;
  readonly takeId: string;
  readonly onBack: () => void;
}

/** Deleting can be taken back as long as the screen is open, and says so. */
function DeleteTake({ bridge, takeId, onBack }: DeleteTakeProps) {
  const [deleted, setDeleted] = useState(false);
  const [failure, setFailure] = useState<string | null>(null);
  async function change(name: 'takes.delete' | 'takes.restore'): Promise<void> {
    const reply = await bridge.ask(name, { takeId });
    if (reply.ok) setDeleted(name === 'takes.delete');
    setFailure(reply.ok ? null : `${reply.refusal.message} ${reply.refusal.remedy}`);
  }
  if (failure !== null) return <p className="notice">{failure}</p>;
  if (!deleted) {
    return (
      <button type="button" onClick={() => void change('takes.delete')}>
        Delete this take
      </button>
    );
  }
  return (
    <p role="status" className="row">
      This take is deleted.
      <button type="button" onClick={() => void change('takes.restore')}>
        Undo
      </button>
      <button type="button" onClick={onBack}>
        Back to the charts
      </button>
    </p>
  );
}
