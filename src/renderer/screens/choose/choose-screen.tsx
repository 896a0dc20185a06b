/** The first screen: which chart, and how it is to be practised; and everything that was played on it so far. */

import './choose.css';
import { lazy, Suspense, useMemo, useState } from 'react';
import type { CallReply, ChartRow, Settings, TakeSetUp } from '../../../../shared/bridge/index.ts';
import { type Form, prepareForm, sliceForm } from '../../../core/chart/index.ts';
import { BreakNotice } from '../../app/break-notice.tsx';
import { type WaitingFile, waitingFile } from '../../app/opened-file.ts';
import { useProgram } from '../../app/program.tsx';
import { ChartPage } from '../../chart-page/chart-page.tsx';
import { useAnswer } from '../../data/index.ts';
import { FailureNotice } from '../../look/failure-notice.tsx';
import { MelodyOption } from '../../melody/melody-option.tsx';
import {
  NO_HAND,
  type PracticeChoice,
  readPracticeChoice,
  setUpOf,
  storePracticeChoice,
  tempoOf,
} from '../../prepare/practice-choice.ts';
import { SoundFields } from '../../settings/sound-fields.tsx';
import type { SheetWish } from '../sheet/sheet-screen.tsx';
import { ChartActions } from './chart-actions.tsx';
import { ChartList } from './chart-list.tsx';
import { HandOverForm } from './hand-over-form.tsx';
import { PracticeForm } from './practice-form.tsx';
import { DemoList, TakeList } from './take-lists.tsx';

const ExampleLine = lazy(() => import('./example-line.tsx'));

interface ChooseScreenProps {
  readonly chartId: string | null;
  readonly onChart: (chartId: string) => void;
  readonly onPlay: (form: Form, setUp: TakeSetUp, choice: PracticeChoice) => void;
  readonly onReview: (takeId: string) => void;
  readonly onEdit: (chartId: string) => void;
  readonly onSheet: (sheet: SheetWish) => void;
  readonly onFiles: (files: readonly WaitingFile[]) => void;
}

export function ChooseScreen({ chartId, onChart, onFiles, ...ways }: ChooseScreenProps) {
  const charts = useAnswer('charts.list', {});
  const stored = useAnswer('settings.get', {});
  const chosen =
    charts.value?.find((chart) => chart.chartId === chartId) ??
    charts.value?.find(({ builtIn }) => builtIn) ??
    null;
  const failure = charts.failure ?? stored.failure;
  return (
    <>
      {failure !== null && <p className="notice">{failure}</p>}
      <BreakNotice playingSinceMs={null} />
      <div className="choose">
        <ChartList
          charts={charts.value ?? []}
          chosen={chosen}
          onChart={onChart}
          onEdit={ways.onEdit}
          onFiles={onFiles}
        />
        {chosen !== null && stored.value !== null && (
          <Preparation
            key={chosen.chartId}
            chart={chosen}
            charts={charts.value ?? []}
            stored={stored.value}
            onChart={onChart}
            onFiles={onFiles}
            {...ways}
          />
        )}
      </div>
    </>
  );
}

interface PreparationProps extends Omit<ChooseScreenProps, 'chartId'> {
  readonly chart: ChartRow;
  readonly charts: readonly ChartRow[];
  readonly stored: Settings;
}

function Preparation({ chart, charts, stored, ...ways }: PreparationProps) {
  const { onChart, onEdit, onPlay, onReview, onSheet, onFiles } = ways;
  const { bridge, settings, changeSettings } = useProgram();
  const [choice, setChoice] = useState(() => readPracticeChoice(stored, chart.chartId));
  const [failure, setFailure] = useState<string | null>(null);
  const [example, setExample] = useState(false);
  const { plan, key, bars } = choice;
  const whole = useMemo(
    () => prepareForm(chart.text, { plan, key, bars: null }),
    [chart.text, plan, key],
  );
  const practised = useMemo(() => {
    const form = whole.ok ? whole.value.form : null;
    if (form === null || bars === null) return form;
    const cut = sliceForm(form, bars.from, bars.to);
    return cut.bars.length > 0 ? cut : form;
  }, [whole, bars]);
  if (!whole.ok || practised === null) {
    return (
      <div>
        <h2 tabIndex={-1} data-focus-home>
          {chart.title}
        </h2>
        <ChartActions chart={chart} onChart={onChart} onEdit={onEdit} />
        <p className="notice">{whole.ok ? '' : whole.problems.join('\n')}</p>
      </div>
    );
  }
  const { form } = whole.value;

  function change(next: PracticeChoice): void {
    setChoice(next);
    // Kept for the next time; a choice that is not kept costs a click, so a failure is no news.
    void bridge.ask('settings.set', { values: storePracticeChoice(chart.chartId, next) });
  }

  function play(): void {
    const prepared = prepareForm(chart.text, choice);
    if (prepared.ok) {
      onPlay(prepared.value.form, setUpOf(chart, prepared.value, choice, NO_HAND), choice);
    } else setFailure(prepared.problems.join('\n'));
  }

  async function openDemo(demo: CallReply<'demos.list'>[number]): Promise<void> {
    const { addDemoTake } = await import('./add-demo-take.ts');
    const added = await addDemoTake(bridge, demo, charts);
    if (added.ok) onReview(added.value);
    else setFailure(added.problems.join('\n'));
  }

  return (
    <div>
      <FailureNotice words={failure} />
      <h2 tabIndex={-1} data-focus-home>
        {chart.title}
      </h2>
      {whole.value.chart.headers.map(({ name, value }) => (
        <p key={name} className="soft">
          {name === 'note' ? value : `${name}: ${value}`}
        </p>
      ))}
      {choice.note !== '' && (
        <p className="handed-note">
          <strong>Handed over with this chart:</strong> {choice.note}
        </p>
      )}
      <PracticeForm prepared={whole.value} choice={choice} onChange={change} onPlay={play} />
      <HandOverForm chart={chart} choice={choice} onChange={change} />
      <details>
        <summary>Click, bass and chords</summary>
        <SoundFields
          sound={settings.sound}
          onChange={(sound) => changeSettings({ ...settings, sound })}
        />
      </details>
      <details onToggle={(event) => setExample(event.currentTarget.open)}>
        <summary>An example line, written and heard</summary>
        {example && (
          <Suspense fallback={<p>One moment …</p>}>
            <ExampleLine
              form={practised}
              choice={choice}
              tempoBpm={tempoOf(whole.value, choice)}
              onChange={(part) => change({ ...choice, ...part })}
            />
          </Suspense>
        )}
      </details>
      <MelodyOption chartId={chart.chartId} chart={whole.value.chart} form={form} bars="played" />
      <ChartPage form={form} showPalettes range={choice.bars} />
      <p className="chart-actions">
        <button
          type="button"
          onClick={() =>
            onSheet({
              form: practised,
              tempoBpm: tempoOf(whole.value, choice),
              goalBpm: choice.goalBpm,
              note: choice.note,
            })
          }
        >
          Practice sheet for printing
        </button>
      </p>
      <ChartActions chart={chart} onChart={onChart} onEdit={onEdit} />
      <h2 className="below">Takes of this chart</h2>
      <TakeList chartId={chart.chartId} onReview={onReview} />
      <label className="field">
        Open a recorded MIDI file (.mid) as a take of this chart; or drop it anywhere on the page
        <input
          type="file"
          accept=".mid,.midi,audio/midi"
          onChange={(event) => {
            const [file] = event.target.files ?? [];
            if (file !== undefined) onFiles([waitingFile(file)]);
          }}
        />
      </label>
      <h2 className="below">Demo takes</h2>
      <DemoList onOpen={(demo) => void openDemo(demo)} />
    </div>
  );
}
