/** A chart as text and as a page, its palettes and its plans: all one chart, changed from either side. */

import './edit.css';
import { useMemo, useRef, useState } from 'react';
import type { ChartRow } from '../../../../shared/bridge/index.ts';
import {
  addBarEdits,
  type BarText,
  barTexts,
  type Chart,
  editsTowards,
  keyEdit,
  type PlanText,
  pickupEdit,
  planNames,
  readTree,
  removeBarEdits,
  type TextEdit,
  transposeBarText,
  writtenForm,
} from '../../../core/chart/index.ts';
import { setPalette } from '../../../core/plan/index.ts';
import { PLAIN } from '../../../core/words.ts';
import { useAnswer, useFirst } from '../../data/index.ts';
import { FailureNotice } from '../../look/failure-notice.tsx';
import { SelectField } from '../../look/fields.tsx';
import { MelodyOption } from '../../melody/melody-option.tsx';
import { EditPage } from './edit-page.tsx';
import { KeyField } from './key-field.tsx';
import { chordAt, nearestPlace, type PagePlace, pageBars, pagePickup } from './page-model.ts';
import { PalettePanel } from './palette-panel.tsx';
import { PlanPanel } from './plan-panel.tsx';
import { TextPane } from './text-pane.tsx';
import { type Draft, useDraft } from './use-draft.ts';
import { useEditKeys } from './use-edit-keys.ts';

interface EditScreenProps {
  readonly chartId: string;
  /** Leaves for the first screen, with the chart that is to be shown there. */
  readonly onDone: (chartId: string) => void;
}

export default function EditScreen({ chartId, onDone }: EditScreenProps) {
  const charts = useAnswer('charts.list', {});
  // As it was when it was opened: what is typed here is the chart from then on, also when it is deleted elsewhere.
  const row = useFirst(charts.value?.find((chart) => chart.chartId === chartId) ?? null);
  if (row === null) {
    if (charts.failure !== null) return <p className="notice">{charts.failure}</p>;
    return <p>{charts.value === null ? 'One moment …' : 'No such chart.'}</p>;
  }
  return <Workbench row={row} onDone={onDone} />;
}

function Workbench({
  row,
  onDone,
}: {
  readonly row: ChartRow;
  readonly onDone: EditScreenProps['onDone'];
}) {
  const draft = useDraft(row);
  const [wantedPlan, setPlan] = useState<string>(PLAIN);
  const [wantedPlace, setPlace] = useState<PagePlace>({ bar: 0, chord: 0 });
  const [told, setTold] = useState<string | null>(null);
  const { editor, text, reading, chart } = draft;
  /** Read once for each text, however often a key asks. */
  const present = useRef<{ text: string; plans: readonly PlanText[] } | null>(null);

  const names = chart === null ? [PLAIN] : planNames(chart);
  // Undoing takes plans and bars back from under the player.
  const plan = names.includes(wantedPlan) ? wantedPlan : PLAIN;
  const bars = useMemo(() => pageBars(reading, plan), [reading, plan]);

  const readable = reading.problems.length === 0 ? chart : null;
  const written = useMemo(
    () => (readable === null ? null : writtenForm(readable, plan)),
    [readable, plan],
  );
  const playedPickup = written?.ok === true ? written.value.pickup : null;
  const pickup = useMemo(() => pagePickup(reading, playedPickup), [reading, playedPickup]);

  const place = nearestPlace(bars, wantedPlace);
  const page = useRef<HTMLDivElement>(null);
  useEditKeys(editor, page);

  function edit(edits: readonly TextEdit[]): void {
    setTold(null);
    editor.apply(edits);
  }
  /** A whole chart in place of the present one, as one step. */
  function become(next: Chart): void {
    edit(editsTowards(editor.text(), next));
  }
  /** Where a bar stands now: what is drawn may be a keystroke behind. */
  function placeOf(bar: number): BarText | undefined {
    const typed = editor.text();
    if (present.current?.text !== typed) {
      present.current = { text: typed, plans: barTexts(readTree(typed)) };
    }
    return present.current.plans.find(({ name }) => name === plan)?.bars[bar];
  }
  function putBar(bar: number, content: string): void {
    const at = placeOf(bar);
    if (at !== undefined) edit([{ from: at.from, to: at.to, insert: content }]);
  }
  function removeBar(bar: number): void {
    const removed = removeBarEdits(editor.text(), bar);
    if (removed.ok) edit(removed.value);
    else setTold(REMOVE_WORDS[removed.problems[0] ?? 'sign']);
  }
  async function leave(): Promise<void> {
    onDone(await draft.store());
  }

  const { chord: chosen, before } = chordAt(bars, place);
  return (
    <>
      <div className="row edit-head">
        <button type="button" onClick={() => void leave()}>
          ← Charts
        </button>
        <h2 className="edit-title">{chart?.title || row.title}</h2>
        <StoreWords draft={draft} isCopy={row.builtIn && text !== row.text} />
        <button type="button" onClick={editor.undo}>
          Undo
        </button>
        <button type="button" onClick={editor.redo}>
          Redo
        </button>
      </div>
      <FailureNotice words={told} />
      <div className="row">
        <SelectField
          label="Plan on the page"
          value={plan}
          options={names.map((name) => ({ value: name, words: name }))}
          onChange={setPlan}
        />
        {readable !== null && (
          <KeyField
            chart={readable}
            onChart={become}
            onName={(key) => edit([keyEdit(editor.text(), key)])}
          />
        )}
      </div>
      <div className="edit">
        <div ref={page}>
          <EditPage
            bars={bars}
            pickup={pickup}
            place={place}
            contentOf={(bar) => placeOf(bar)?.text ?? ''}
            onPlace={setPlace}
            onBar={putBar}
            onPickup={(content) => edit([pickupEdit(editor.text(), content)])}
            onTranspose={(bar, by) => {
              const content = placeOf(bar);
              if (content !== undefined) putBar(bar, transposeBarText(content, by));
            }}
            onAdd={(after) => {
              edit(addBarEdits(editor.text(), after, '%'));
              setPlace({ bar: after + 1, chord: 0 });
            }}
            onRemove={removeBar}
          />
          <p className="soft">
            Arrow keys go from chord to chord. A letter or Enter types the bar (Cm7 F7, with a space
            between chords), % repeats the bar before, Alt+↑ and Alt+↓ move it a semitone, Insert
            adds a bar, Delete takes it out. Above bar 1 stands the pickup: 1 for a beat, 3/8 for
            three eighths, then chords if it has some. Escape ends typing, F6 goes to the text and
            back, Ctrl+Z takes a step back, Ctrl+Y makes it again.
          </p>
          {readable !== null && written?.ok === true && (
            <MelodyOption
              chartId={row.chartId}
              chart={readable}
              form={written.value}
              bars="written"
            />
          )}
          {readable !== null && chosen !== null && (
            <PalettePanel
              chart={readable}
              bar={place.bar + 1}
              chord={chosen}
              before={before}
              onSet={(reach, given) => become(setPalette(readable, plan, place, reach, given))}
            />
          )}
        </div>
        <div>
          <TextPane draft={draft} />
          {readable !== null && (
            <PlanPanel
              chart={readable}
              plan={plan}
              onChart={(next, name) => {
                become(next);
                setPlan(name);
              }}
            />
          )}
        </div>
      </div>
    </>
  );
}

const REMOVE_WORDS = {
  lastBar: 'The only bar of a chart stays. Type other chords into it.',
  sign: 'This bar begins a section or carries a repeat, an ending or a double bar. Take the sign out in the text first.',
} as const;

function StoreWords({ draft, isCopy }: { readonly draft: Draft; readonly isCopy: boolean }) {
  const { state, isDeleted } = draft;
  if (typeof state === 'object') {
    return (
      <span className="notice" role="alert">
        Not stored. {state.failure}{' '}
        <button type="button" onClick={() => void draft.store()}>
          Try again
        </button>
      </span>
    );
  }
  if (isDeleted) {
    return (
      <span className="notice" role="alert">
        This chart was deleted elsewhere. {state === 'waiting' ? 'Storing …' : 'Your text is kept.'}{' '}
        <button type="button" onClick={() => void draft.bringBack()}>
          Bring the chart back
        </button>
      </span>
    );
  }
  const copy = isCopy
    ? ' This chart came with the program: your changes are in a copy of your own.'
    : '';
  return (
    <span className="soft" role="status">
      {state === 'stored' ? `Stored.${copy}` : 'Storing …'}
    </span>
  );
}
