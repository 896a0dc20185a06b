/** A MIDI file as a take: which chart it was played on, where its first downbeat lies, at what tempo. */

import { prepareForm } from '../../../core/chart/index.ts';
import './open.css';
import { useMemo, useState } from 'react';
import type { ChartRow } from '../../../../shared/bridge/index.ts';
import { ms } from '../../../core/findings/index.ts';
import type { OpenedFile } from '../../app/opened-file.ts';
import { useProgram } from '../../app/program.tsx';
import { refusalWords } from '../../app/refusal-words.ts';
import { useAnswer } from '../../data/index.ts';
import { FailureNotice } from '../../look/failure-notice.tsx';
import { CheckField, NumberField, SelectField } from '../../look/fields.tsx';
import { NO_HAND, type PracticeChoice, setUpOf } from '../../prepare/practice-choice.ts';
import { PracticeFields } from '../../prepare/practice-fields.tsx';
import {
  choiceOfFile,
  FILE_AS_IT_IS,
  fileSays,
  takeFromFile,
} from '../../prepare/take-from-file.ts';
import { downbeatChoices, gridFit, PREVIEW_BARS, previewGrid } from './grid-model.ts';
import { GridPicture } from './grid-preview.tsx';

/** What notes thrown at random would give at 120: a quarter of an eighth. Beyond it, tempo or downbeat is doubted. */
const LOOSE_FIT_MS = 62.5;

const DECIDED_WORDS = {
  taken: 'Grade by the other reading, as chosen in the file',
  refused: 'Leave it as it was played, as chosen in the file',
} as const;

interface OpenScreenProps {
  readonly file: OpenedFile;
  /** The chart looked at before, which is the likeliest. */
  readonly chartId: string | null;
  readonly onReview: (takeId: string) => void;
  readonly onBack: () => void;
}

export default function OpenScreen({ file, chartId, onReview, onBack }: OpenScreenProps) {
  const charts = useAnswer('charts.list', {});
  const [picked, setPicked] = useState(chartId);
  const rows = charts.value ?? [];
  const chart = rows.find((row) => row.chartId === picked) ?? rows[0];
  return (
    <>
      <button type="button" className="back" onClick={onBack}>
        ← Charts
      </button>
      <h2 tabIndex={-1} data-focus-home>
        Open {file.name} as a take
      </h2>
      {charts.failure !== null && <p className="notice">{charts.failure}</p>}
      {chart !== undefined && (
        <>
          <SelectField
            label="Played on the chart"
            value={chart.chartId}
            options={rows.map(({ chartId: value, title }) => ({ value, words: title }))}
            onChange={setPicked}
          />
          <Mapping key={chart.chartId} chart={chart} file={file} onReview={onReview} />
        </>
      )}
    </>
  );
}

interface MappingProps {
  readonly chart: ChartRow;
  readonly file: OpenedFile;
  readonly onReview: (takeId: string) => void;
}

function Mapping({ chart, file, onReview }: MappingProps) {
  const { bridge } = useProgram();
  const [says] = useState(() => fileSays(file.bytes));
  const [choice, setChoice] = useState<PracticeChoice>(() => choiceOfFile(says));
  const [isAsDecided, setAsDecided] = useState(says.decision !== null);
  const [mapping, setMapping] = useState(FILE_AS_IT_IS);
  const [splitMidi, setSplitMidi] = useState(says.settings?.splitMidi ?? null);
  const [firstBar, setFirstBar] = useState(0);
  const [failure, setFailure] = useState<string | null>(null);
  const change = (part: Partial<PracticeChoice>): void => setChoice({ ...choice, ...part });

  const latencyMs = says.settings?.latencyMs;
  const mapped = useMemo(() => {
    const prepared = prepareForm(chart.text, choice);
    if (!prepared.ok) return prepared;
    const setUp = setUpOf(chart, prepared.value, choice, {
      ...NO_HAND,
      ...(latencyMs !== undefined && { latencyMs }),
      ...(splitMidi !== null && { splitMidi }),
    });
    const take = takeFromFile(file.bytes, prepared.value.form, setUp, mapping);
    return take.ok ? { ok: true as const, prepared: prepared.value, take: take.value } : take;
  }, [chart, choice, mapping, latencyMs, splitMidi, file]);
  if (!mapped.ok) {
    return (
      <p className="notice" role="alert">
        {mapped.problems.join('\n')}
      </p>
    );
  }
  const { prepared, take } = mapped;
  const { form } = prepared;
  const fitMs = gridFit(form, take.setUp.grade, take);
  const tempo = take.setUp.grade.tempo;

  async function add(): Promise<void> {
    const { startMs: _inFile, ...played } = take;
    const decision = isAsDecided ? says.decision : null;
    const stored = await bridge.ask('takes.add', { ...played, startedAtMs: null, decision });
    if (stored.ok) onReview(stored.value.takeId);
    else setFailure(refusalWords(stored.refusal));
  }

  return (
    <>
      <div className="row">
        <PracticeFields prepared={prepared} choice={choice} onChange={change} />
        <NumberField
          label="Choruses planned"
          min={1}
          max={1000}
          value={choice.choruses ?? 2}
          disabled={choice.choruses === null}
          onChange={(choruses) => change({ choruses })}
        />
        <CheckField
          label="No planned end"
          checked={choice.choruses === null}
          onChange={(open) => change({ choruses: open ? null : 2 })}
        />
        {says.decision !== null && (
          <CheckField
            label={DECIDED_WORDS[says.decision.choice]}
            checked={isAsDecided}
            onChange={setAsDecided}
          />
        )}
      </div>
      <div className="row">
        <SelectField
          label="First downbeat"
          value={take.startMs}
          options={[
            ...downbeatChoices(take.startMs, take.events).filter(
              ({ startMs }) => startMs !== take.startMs,
            ),
            { startMs: take.startMs, words: `at ${Math.round(take.startMs)} ms` },
          ].map(({ startMs, words }) => ({ value: startMs, words }))}
          onChange={(startMs) => setMapping({ ...mapping, startMs })}
        />
        <NumberField
          label="or at, ms in the file"
          min={-60_000}
          max={36_000_000}
          value={Math.round(take.startMs)}
          onChange={(startMs) => setMapping({ ...mapping, startMs })}
        />
        <CheckField
          label="The file’s own tempo"
          checked={mapping.tempoBpm === null}
          onChange={(own) => setMapping({ ...mapping, tempoBpm: own ? null : 60 })}
        />
        <NumberField
          label="Tempo"
          min={20}
          max={400}
          step={0.1}
          disabled={mapping.tempoBpm === null}
          value={tempo.kind === 'steady' ? tempo.tempoBpm : 60}
          onChange={(tempoBpm) => setMapping({ ...mapping, tempoBpm })}
        />
        <CheckField
          label="Split the hands"
          checked={splitMidi !== null}
          onChange={(split) => {
            setSplitMidi(split ? 60 : null);
            change({ leftHand: split });
          }}
        />
        {splitMidi !== null && (
          <NumberField
            label="Lowest key of the line (60 is C4)"
            min={0}
            max={127}
            value={splitMidi}
            onChange={setSplitMidi}
          />
        )}
      </div>
      <GridPicture preview={previewGrid(form, take.setUp.grade, take, firstBar)} />
      <div className="row">
        <button
          type="button"
          disabled={firstBar === 0}
          onClick={() => setFirstBar(Math.max(0, firstBar - PREVIEW_BARS))}
        >
          Earlier bars
        </button>
        <button type="button" onClick={() => setFirstBar(firstBar + PREVIEW_BARS)}>
          Later bars
        </button>
        <span role="status">
          {fitMs === null
            ? 'No note of the line.'
            : `Half of the notes lie within ${ms(fitMs)} of a slot.`}
          {fitMs !== null && fitMs > LOOSE_FIT_MS && ' Do tempo and first downbeat fit?'}
        </span>
        <button type="button" className="main" onClick={() => void add()}>
          Grade this take
        </button>
      </div>
      <FailureNotice words={failure} />
    </>
  );
}
