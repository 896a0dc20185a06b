/** Where the line broke: the page tinted by its clean rate, the line of each chorus, and what was found, place by place. */

import './review.css';
import { lazy, Suspense, useMemo, useRef, useState } from 'react';
import type { Bridge, TakeRecord } from '../../../../shared/bridge/index.ts';
import { cleanRates, findings, percent, playedBackFindings } from '../../../core/findings/index.ts';
import {
  describeReadiness,
  drillTempoBpm,
  evidenceOf,
  judgeReadiness,
  weakestPlace,
} from '../../../core/progress/index.ts';
import { comparePlayedBack, pickupNotes } from '../../../core/score/index.ts';
import { BreakNotice } from '../../app/break-notice.tsx';
import { useProgram } from '../../app/program.tsx';
import { refusalWords } from '../../app/refusal-words.ts';
import { RemarkField } from '../../app/remark-field.tsx';
import { ChartPage } from '../../chart-page/chart-page.tsx';
import { LineInBar, LinePatterns } from '../../chart-page/line-in-bar.tsx';
import { drawChorus, layLine, registerFor } from '../../chart-page/line-model.ts';
import { drawPickup } from '../../chart-page/pickup-drawing.ts';
import { useAnswer } from '../../data/index.ts';
import { withSigns } from '../../look/signs.ts';
import { type Again, barsInWords, drillAgain, playAgain } from '../../prepare/play-again.ts';
import { type ReadRecord, readRecord } from '../../prepare/read-record.ts';
import { AgainButton } from './again-button.tsx';
import { CompareTakes } from './compare-takes.tsx';
import { ExportButtons } from './export-buttons.tsx';
import { HearTake, type TakePlace } from './hear-take.tsx';
import { Heatmap } from './heatmap.tsx';
import { chorusRows, faultRows } from './heatmap-model.ts';
import { ReadingOffer } from './reading-offer.tsx';
import { breakStrength, chorusesOf } from './review-model.ts';
import { TimingPlot } from './timing-plot.tsx';

const TakeStaff = lazy(() => import('./take-staff.tsx'));

interface ReviewScreenProps {
  readonly takeId: string;
  readonly onBack: () => void;
  readonly onPlay: (again: Again, nudge: boolean) => void;
  /** The practice of the take once more, at once and in the manner of its run. */
  readonly onAgain: (again: Again) => void;
  readonly onCalibrate: (deviceName: string) => void;
}

export default function ReviewScreen({ takeId, ...ways }: ReviewScreenProps) {
  const { value: record, failure } = useAnswer('takes.get', { takeId }, withoutRemark);
  return (
    <>
      <button type="button" className="back" onClick={ways.onBack}>
        ← Charts
      </button>
      {failure !== null && <p className="notice">{failure}</p>}
      {record !== null && <Review record={record} {...ways} />}
    </>
  );
}

/** A remark is no reason to grade the take again. */
function withoutRemark(take: TakeRecord): TakeRecord {
  return { ...take, row: { ...take.row, note: '' } };
}

function remarkOf({ row }: TakeRecord): string {
  return row.note;
}

interface ReviewProps extends Omit<ReviewScreenProps, 'takeId'> {
  /** As it is stored. */
  readonly record: TakeRecord;
}

function Review({ record, ...ways }: ReviewProps) {
  const read = useMemo(() => readRecord(record), [record]);
  if (!read.ok) return <p className="notice">{read.problems.join('\n')}</p>;
  return <GradedReview record={record} read={read.value} {...ways} />;
}

interface GradedReviewProps extends ReviewProps {
  readonly read: ReadRecord;
}

function GradedReview({ record: stored, read, onPlay, ...ways }: GradedReviewProps) {
  const { bridge } = useProgram();
  const { form, report, shown: record } = read;
  const { takeId } = record.row;
  const { value: remark } = useAnswer('takes.get', { takeId }, remarkOf);
  const [chorus, setChorus] = useState(1);
  const [place, setPlace] = useState<TakePlace | null>(null);
  const [sounding, setSounding] = useState<TakePlace | null>(null);
  const [hasStaff, setStaff] = useState(false);
  const page = useRef<HTMLDivElement>(null);
  const rates = useMemo(() => cleanRates(report.bars), [report]);
  const pickup = useMemo(() => pickupNotes(form, record, record.setUp.grade), [form, record]);
  const register = useMemo(() => {
    const line = report.slots.flatMap(({ note }) => (note === null ? [] : [note.midi]));
    return registerFor([...pickup.map(({ midi }) => midi), ...line]);
  }, [report, pickup]);
  const shownChorus = sounding?.chorus ?? chorus;
  const drawings = useMemo(() => {
    const { level, slots: settled, changes } = report;
    const { slotsPerBeat } = record.setUp.grade;
    const layout = layLine(form, { level, slotsPerBeat });
    const source = { layout, settled, heard: new Map(), changes };
    const drawn = drawChorus(source, shownChorus, register);
    return new Map(drawn.map((drawing) => [drawing.bar, drawing]));
  }, [form, report, record, shownChorus, register]);
  const paragraphs = useMemo(() => {
    const { model, grade } = record.setUp;
    if (model === null) return findings(report);
    const back = comparePlayedBack(form, report, model, grade.slotsPerBeat);
    return [playedBackFindings(back), ...findings(report)];
  }, [form, report, record]);
  const choruses = chorusesOf(report);
  const { summary } = report;

  function show(found: TakePlace): void {
    setChorus(found.chorus);
    setPlace(found);
    page.current?.scrollIntoView({ block: 'start' });
  }

  function play(again: Again | null, nudge: boolean): void {
    if (again !== null) onPlay(again, nudge);
  }

  const marked = sounding ?? (place?.chorus === chorus ? place : null);
  return (
    <>
      <h1 tabIndex={-1} data-focus-home aria-describedby="take-result">
        {report.chart}
      </h1>
      <p id="take-result">
        {summary.cleanRate === null
          ? 'No note of the line was found in this take.'
          : `${summary.clean} of ${summary.slots} slots clean (${percent(summary.cleanRate)}), ${summary.changes.onTime} of ${summary.changes.counted} changes on time.`}{' '}
        <span className="soft">
          {report.level} at {report.tempo}, plan {report.plan}, in {withSigns(record.setUp.key)}
          {record.setUp.bars !== null &&
            `, bars ${record.setUp.bars.from} to ${record.setUp.bars.to}`}
        </span>
      </p>
      {read.reading !== null && <ReadingOffer record={stored} told={read.reading} {...ways} />}
      <NextSteps record={stored} read={read} onPlay={play} onAgain={ways.onAgain} />
      <BreakNotice playingSinceMs={null} />
      <LinePatterns />
      <div ref={page}>
        <HearTake record={record} form={form} place={place} onBar={setSounding} />
        <fieldset className="row chorus-row">
          <legend className="hidden-words">Chorus shown</legend>
          {choruses.map((number) => (
            <button
              key={number}
              type="button"
              aria-pressed={number === shownChorus}
              onClick={() => setChorus(number)}
            >
              chorus {number}
            </button>
          ))}
          <span className="soft">
            The stronger a bar’s tint, the less of it was clean, over all choruses.
          </span>
        </fieldset>
      </div>
      <ChartPage
        form={form}
        currentBar={marked?.bar ?? null}
        tintOf={({ bar }) => breakStrength(rates.get(bar) ?? null)}
        inPickup={
          <LineInBar drawing={shownChorus === 1 ? drawPickup(form, pickup, register) : undefined} />
        }
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
      <details onToggle={(event) => setStaff(event.currentTarget.open)}>
        <summary>This chorus on a staff</summary>
        {hasStaff && (
          <Suspense fallback={<p>One moment …</p>}>
            <TakeStaff
              form={form}
              report={report}
              pickup={pickup}
              slotsPerBeat={record.setUp.grade.slotsPerBeat}
              chorus={shownChorus}
              soundingBar={sounding?.bar ?? null}
            />
          </Suspense>
        )}
      </details>
      <div className="findings">
        {paragraphs.map(({ title, lines }) => (
          <section key={title}>
            <h2>{title}</h2>
            <ul className="plain-list">
              {lines.map(({ text, place: at }) => (
                <li key={text}>
                  {at === null ? (
                    withSigns(text)
                  ) : (
                    <button type="button" className="finding" onClick={() => show(at)}>
                      {withSigns(text)}
                    </button>
                  )}
                </li>
              ))}
            </ul>
          </section>
        ))}
      </div>
      <Heatmap
        title="Faults by bar, all choruses"
        rows={faultRows(report, form)}
        onPlace={(inChorus, bar) => show({ chorus: inChorus, bar })}
      />
      <Heatmap
        title="Slots not clean, chorus by chorus"
        rows={chorusRows(report, form)}
        onPlace={(inChorus, bar) => show({ chorus: inChorus, bar })}
      />
      <TimingPlot report={report} onPlace={show} />
      <CompareTakes record={record} report={report} />
      <RemarkField
        label="A remark to yourself"
        text={remark ?? ''}
        onSave={async (note) => {
          const reply = await bridge.ask('takes.note', { takeId, note });
          return reply.ok ? null : refusalWords(reply.refusal);
        }}
      />
      <div className="row">
        <ExportButtons record={stored} form={form} report={report} />
        <DeleteTake bridge={bridge} takeId={takeId} onBack={ways.onBack} />
      </div>
    </>
  );
}

interface NextStepsProps {
  readonly record: TakeRecord;
  readonly read: ReadRecord;
  readonly onPlay: (again: Again | null, nudge: boolean) => void;
  readonly onAgain: (again: Again) => void;
}

/** What this take says about its tempo, and the next step with one press: another tempo, or the bars that broke most. */
function NextSteps({ record, read, onPlay, onAgain }: NextStepsProps) {
  const { form, report, isUndecided } = read;
  // A swing that was taken is kept; what else a reading set is of this take alone.
  const setUp = useMemo(
    () => ({ ...record.setUp, grade: { ...record.setUp.grade, swing: report.swing } }),
    [record.setUp, report.swing],
  );
  const verdict = judgeReadiness([evidenceOf(report, form, 0, isUndecided)], report.tempo, 0);
  const weak = isUndecided ? null : weakestPlace(report.bars);
  const isSteady = setUp.grade.tempo.kind === 'steady';
  // The tempo of a file may change from bar to bar; it is played again at one.
  const again = useMemo(
    () => playAgain(setUp, isSteady ? {} : { tempoBpm: Math.round(report.tempo) }),
    [setUp, isSteady, report.tempo],
  );
  return (
    <>
      <p>{withSigns(describeReadiness(verdict, report.tempo))}</p>
      <div className="row next-steps">
        {again !== null && <AgainButton again={again} onAgain={onAgain} />}
        {isSteady && verdict.verdict !== 'hold' && (
          <button
            type="button"
            onClick={() => onPlay(playAgain(setUp, { tempoBpm: verdict.nextTempoBpm }), false)}
          >
            Play at {verdict.nextTempoBpm}
          </button>
        )}
        {isSteady && weak !== null && (
          <button type="button" onClick={() => onPlay(drillAgain(setUp, weak), true)}>
            Drill {barsInWords(weak)} at {drillTempoBpm(report.tempo)}
          </button>
        )}
      </div>
    </>
  );
}

/** The words for the shapes on the page. */
function Legend() {
  return (
    <p className="soft legend">
      A dot is clean, a diamond outside, a triangle an interval that is not open, a short bar before
      or after a note early or late, a ring an extra, a dashed line a gap. A stem at the foot marks
      a change that came on time, a hatch how long the old palette hung on. Hollow dots in a pickup
      are not judged.
    </p>
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
    setFailure(reply.ok ? null : refusalWords(reply.refusal));
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
