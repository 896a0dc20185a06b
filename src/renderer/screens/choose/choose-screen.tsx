/** The first screen: which chart, which plan, key, level and tempo; and everything that was played so far. */

import './choose.css';
import { useMemo, useState } from 'react';
import type { Bridge, ChartRow, TakeSetUp } from '../../../../shared/bridge/index.ts';
import { type Form, planNames } from '../../../core/chart/index.ts';
import { completeSettings, gradeTake } from '../../../core/grading/index.ts';
import { LEVELS, type Level, PLAIN } from '../../../core/words.ts';
import { useCall } from '../../app/use-call.ts';
import { CAUTION, LEVEL_WORDS, MAJOR_KEYS, MINOR_KEYS } from '../../app/words.ts';
import { ChartPage } from '../../chart-page/chart-page.tsx';
import { prepareForm } from '../../prepare/prepare-form.ts';
import { takeFromFile } from '../../prepare/take-from-file.ts';
import { figuresOf } from '../../session/live-take.ts';
import { ChartList } from './chart-list.tsx';
import { DemoList, TakeList } from './take-lists.tsx';

interface ChooseScreenProps {
  readonly bridge: Bridge;
  readonly chartId: string | null;
  readonly onChart: (chartId: string) => void;
  readonly onPlay: (form: Form, setUp: TakeSetUp) => void;
  readonly onReview: (takeId: string) => void;
}

export function ChooseScreen({ bridge, chartId, onChart, onPlay, onReview }: ChooseScreenProps) {
  const charts = useCall(bridge, 'charts.list', {});
  const chosen =
    charts.value?.find((chart) => chart.chartId === chartId) ??
    charts.value?.find(({ builtIn }) => builtIn) ??
    null;
  return (
    <>
      <h1>Linekeeper</h1>
      {charts.failure !== null && <p className="notice">{charts.failure}</p>}
      <div className="choose">
        <ChartList charts={charts.value ?? []} chosen={chosen} onChart={onChart} />
        {chosen !== null && (
          <Preparation
            key={chosen.chartId}
            bridge={bridge}
            chart={chosen}
            charts={charts.value ?? []}
            onPlay={onPlay}
            onReview={onReview}
          />
        )}
      </div>
    </>
  );
}

interface PreparationProps {
  readonly bridge: Bridge;
  readonly chart: ChartRow;
  readonly charts: readonly ChartRow[];
  readonly onPlay: (form: Form, setUp: TakeSetUp) => void;
  readonly onReview: (takeId: string) => void;
}

function Preparation({ bridge, chart, charts, onPlay, onReview }: PreparationProps) {
  const [plan, setPlan] = useState<string>(PLAIN);
  const [key, setKey] = useState<string | null>(null);
  const [level, setLevel] = useState<Level>('steps');
  const [tempo, setTempo] = useState<number | null>(null);
  const [choruses, setChoruses] = useState(2);
  const [failure, setFailure] = useState<string | null>(null);
  const prepared = useMemo(
    () => prepareForm(chart.text, { plan, key, bars: null }),
    [chart.text, plan, key],
  );
  if (!prepared.ok) return <p className="notice">{prepared.problems.join('\n')}</p>;
  const { form } = prepared.value;
  const tempoBpm = tempo ?? form.tempoBpm ?? 60;

  function setUpFor(
    row: ChartRow,
    of: { plan: string; level: Level; key: string; tempoBpm: number },
  ): TakeSetUp {
    return {
      chartId: row.chartId,
      chartTitle: row.title,
      chartText: row.text,
      plan: of.plan,
      key: of.key,
      bars: null,
      grade: completeSettings({
        level: of.level,
        tempo: { kind: 'steady', tempoBpm: of.tempoBpm },
        choruses: null,
      }),
      deviceName: null,
    };
  }

  async function addTake(bytes: Uint8Array, over: Form, setUp: TakeSetUp): Promise<void> {
    const read = takeFromFile(bytes, over, setUp);
    if (!read.ok) return setFailure(read.problems.join('\n'));
    const { events, endMs } = read.value;
    const figures = figuresOf(gradeTake(over, { events, endMs }, read.value.setUp.grade));
    const added = await bridge.ask('takes.add', { ...read.value, figures, startedAtMs: null });
    if (added.ok) onReview(added.value.takeId);
    else setFailure(`${added.refusal.message} ${added.refusal.remedy}`);
  }

  async function openDemo(demo: DemoRow): Promise<void> {
    const got = await bridge.ask('demos.get', { file: demo.file });
    if (!got.ok) return setFailure(`${got.refusal.message} ${got.refusal.remedy}`);
    const row = charts.find(({ chartId }) => chartId === got.value.chartId);
    const over = row && prepareForm(row.text, { plan: demo.plan, key: null, bars: null });
    const demoLevel = LEVELS.find((known) => known === demo.level);
    if (row === undefined || !over?.ok || demoLevel === undefined) {
      return setFailure('This demo take does not fit its chart.');
    }
    const setUp = setUpFor(row, {
      plan: demo.plan,
      level: demoLevel,
      key: over.value.key,
      tempoBpm: demo.tempo,
    });
    const split = { splitMidi: demo.split, leftHand: demo.split !== null };
    const bytes = Uint8Array.from(atob(got.value.base64), (letter) => letter.charCodeAt(0));
    await addTake(bytes, over.value.form, { ...setUp, grade: { ...setUp.grade, ...split } });
  }

  const own = setUpFor(chart, { plan, level, key: prepared.value.key, tempoBpm });
  const keys = form.key.mode === 'minor' ? MINOR_KEYS : MAJOR_KEYS;
  return (
    <div>
      {failure !== null && (
        <p className="notice" role="alert">
          {failure}
        </p>
      )}
      <h2>{chart.title}</h2>
      {prepared.value.chart.headers.map(({ name, value }) => (
        <p key={name} className="soft">
          {name === 'note' ? value : `${name}: ${value}`}
        </p>
      ))}
      <form
        className="row preparation"
        onSubmit={(event) => {
          event.preventDefault();
          onPlay(form, { ...own, grade: { ...own.grade, choruses } });
        }}
      >
        <label className="field">
          Plan
          <select value={plan} onChange={(event) => setPlan(event.target.value)}>
            {planNames(prepared.value.chart).map((name) => (
              <option key={name}>{name}</option>
            ))}
          </select>
        </label>
        <label className="field">
          Key
          <select value={prepared.value.key} onChange={(event) => setKey(event.target.value)}>
            {(keys.includes(prepared.value.key) ? keys : [prepared.value.key, ...keys]).map(
              (name) => (
                <option key={name}>{name}</option>
              ),
            )}
          </select>
        </label>
        <label className="field">
          Level
          <select
            value={level}
            onChange={(event) =>
              setLevel(LEVELS.find((known) => known === event.target.value) ?? 'steps')
            }
          >
            {LEVELS.map((name) => (
              <option key={name} value={name}>
                {LEVEL_WORDS[name]}
              </option>
            ))}
          </select>
        </label>
        <label className="field">
          Tempo
          <input
            type="number"
            min={30}
            max={240}
            value={tempoBpm}
            onChange={(event) => setTempo(Number(event.target.value) || null)}
          />
        </label>
        <label className="field">
          Choruses
          <input
            type="number"
            min={1}
            max={50}
            value={choruses}
            onChange={(event) => setChoruses(Math.max(1, Number(event.target.value)))}
          />
        </label>
        <button type="submit" className="main">
          Play
        </button>
      </form>
      <p className="soft">{CAUTION}</p>
      <ChartPage form={form} showPalettes />
      <h2 className="below">Takes of this chart</h2>
      <TakeList bridge={bridge} chartId={chart.chartId} onReview={onReview} />
      <label className="field">
        Open a recorded MIDI file (.mid) as a take of this chart, plan, key and level
        <input
          type="file"
          accept=".mid,.midi,audio/midi"
          onChange={(event) => {
            const [file] = event.target.files ?? [];
            if (file !== undefined) {
              void file.arrayBuffer().then((buffer) => addTake(new Uint8Array(buffer), form, own));
            }
          }}
        />
      </label>
      <h2 className="below">Demo takes</h2>
      <DemoList bridge={bridge} onOpen={(demo) => void openDemo(demo)} />
    </div>
  );
}

type DemoRow = Parameters<Parameters<typeof DemoList>[0]['onOpen']>[0];
