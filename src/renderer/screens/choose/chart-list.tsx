/** The charts, with a search box; deleting one can be undone here. */

import { type KeyboardEvent, useEffect, useRef, useState } from 'react';
import type { ChartRow } from '../../../../shared/bridge/index.ts';
import { type WaitingFile, waitingFile } from '../../app/opened-file.ts';
import { useProgram } from '../../app/program.tsx';
import { refusalWords } from '../../app/refusal-words.ts';
import { SelectField } from '../../look/fields.tsx';
import { walk } from '../../look/walk.ts';
import { type ChartOrder, findCharts, ORDERS, orderCharts, SHOWN_AT_ONCE } from './chart-search.ts';

interface ChartListProps {
  readonly charts: readonly ChartRow[];
  readonly chosen: ChartRow | null;
  readonly onChart: (chartId: string) => void;
  readonly onEdit: (chartId: string) => void;
  readonly onFiles: (files: readonly WaitingFile[]) => void;
}

export function ChartList({ charts, chosen, onChart, onEdit, onFiles }: ChartListProps) {
  const [search, setSearch] = useState('');
  const [order, setOrder] = useState<ChartOrder>('title');
  const found = orderCharts(findCharts(charts, search), order);
  const shown = found.slice(0, SHOWN_AT_ONCE);
  const list = useRef<HTMLUListElement>(null);
  const [stood, setStood] = useState<string | null>(null);
  // Of hundreds of charts one is a stop on the way through the page; the arrow keys go to the others.
  const stop =
    [stood, chosen?.chartId].find((id) => shown.some(({ chartId }) => chartId === id)) ??
    shown[0]?.chartId;

  function walkCharts(event: KeyboardEvent): void {
    walk(event, [...(list.current?.querySelectorAll('button') ?? [])], ['ArrowUp', 'ArrowDown']);
  }

  return (
    <nav className="chart-list" aria-label="Charts">
      <input
        type="search"
        aria-label="Search charts"
        placeholder="Search title, tags, chords"
        value={search}
        onChange={(event) => setSearch(event.target.value)}
        onKeyDown={(event) => {
          if (event.key === 'ArrowDown') walkCharts(event);
        }}
      />
      <SelectField label="In order of" value={order} options={ORDERS} onChange={setOrder} />
      <Deleted charts={charts} onChart={onChart} />
      <ul ref={list} onKeyDown={walkCharts} onBlur={() => setStood(null)}>
        {shown.map(({ chartId, title, tags }) => (
          <li key={chartId}>
            <button
              type="button"
              className="chart-choice"
              aria-current={chartId === chosen?.chartId}
              tabIndex={chartId === stop ? 0 : -1}
              onFocus={() => setStood(chartId)}
              onClick={() => onChart(chartId)}
            >
              {title}
              {tags.length > 0 && <span className="tags soft"> {tags.join(' · ')}</span>}
            </button>
          </li>
        ))}
      </ul>
      {found.length === 0 && <p className="soft">No chart holds these words.</p>}
      {found.length > shown.length && (
        <p className="soft">and {found.length - shown.length} more: search to find them.</p>
      )}
      <NewChart onEdit={onEdit} />
      <label className="field">
        Import charts (.changes, .chart, .musicxml, .mxl)
        <input
          type="file"
          multiple
          accept=".changes,.chart,.musicxml,.mxl,.xml,text/plain"
          onChange={(event) => onFiles([...(event.target.files ?? [])].map(waitingFile))}
        />
      </label>
      <p className="soft">A folder of charts can be dropped on the page.</p>
    </nav>
  );
}

/** Eight bars of one chord: enough of a form to type into. */
const BLANK_CHART = `title: New chart
key: C
meter: 4/4
tempo: 60

[A]
| C6 | % | % | % |
| % | % | % | % |
`;

function NewChart({ onEdit }: Pick<ChartListProps, 'onEdit'>) {
  const { bridge } = useProgram();
  const [failure, setFailure] = useState<string | null>(null);
  async function begin(): Promise<void> {
    const chart = { chartId: null, title: 'New chart', text: BLANK_CHART };
    const saved = await bridge.ask('charts.save', chart);
    if (saved.ok) onEdit(saved.value.chartId);
    else setFailure(refusalWords(saved.refusal));
  }
  return (
    <>
      <button type="button" className="new-chart" onClick={() => void begin()}>
        Write a new chart
      </button>
      {failure !== null && <p className="notice">{failure}</p>}
    </>
  );
}

/** The chart of one's own that has just gone, with the way back. Deleting in another window shows here too. */
function Deleted({ charts, onChart }: Pick<ChartListProps, 'charts' | 'onChart'>) {
  const { bridge } = useProgram();
  const before = useRef<readonly ChartRow[]>([]);
  const [gone, setGone] = useState<ChartRow | null>(null);
  useEffect(() => {
    const left = before.current.find(
      (row) => !charts.some(({ chartId }) => chartId === row.chartId),
    );
    if (charts.length > 0 && left !== undefined) setGone(left);
    before.current = charts;
  }, [charts]);

  async function undo(chartId: string): Promise<void> {
    const reply = await bridge.ask('charts.restore', { chartId });
    if (!reply.ok) return;
    setGone(null);
    onChart(chartId);
  }

  if (gone === null || charts.some(({ chartId }) => chartId === gone.chartId)) return null;
  return (
    <p role="status">
      “{gone.title}” is deleted. Its takes stay.{' '}
      <button type="button" className="inline" onClick={() => void undo(gone.chartId)}>
        Undo
      </button>
    </p>
  );
}
