/** The charts, with a search box; arrow keys go through them as through any row of buttons. */

import { useState } from 'react';
import type { ChartRow } from '../../../../shared/bridge/index.ts';
import { type OpenedFile, readFile } from '../../app/opened-file.ts';

interface ChartListProps {
  readonly charts: readonly ChartRow[];
  readonly chosen: ChartRow | null;
  readonly onChart: (chartId: string) => void;
  readonly onFile: (file: OpenedFile) => void;
}

/** Charts whose title or text holds every word of the search. */
export function findCharts(charts: readonly ChartRow[], search: string): readonly ChartRow[] {
  const words = search.toLowerCase().split(/\s+/).filter(Boolean);
  return charts.filter(({ title, text }) => {
    const whole = `${title}\n${text}`.toLowerCase();
    return words.every((word) => whole.includes(word));
  });
}

export function ChartList({ charts, chosen, onChart, onFile }: ChartListProps) {
  const [search, setSearch] = useState('');
  const found = findCharts(charts, search);
  return (
    <nav className="chart-list" aria-label="Charts">
      <input
        type="search"
        aria-label="Search charts"
        placeholder="Search charts"
        value={search}
        onChange={(event) => setSearch(event.target.value)}
      />
      <ul>
        {found.map(({ chartId, title }) => (
          <li key={chartId}>
            <button
              type="button"
              aria-current={chartId === chosen?.chartId}
              onClick={() => onChart(chartId)}
            >
              {title}
            </button>
          </li>
        ))}
      </ul>
      {found.length === 0 && <p className="soft">No chart holds these words.</p>}
      <label className="field">
        Import a chart (.chart)
        <input
          type="file"
          accept=".chart,text/plain"
          onChange={(event) => {
            const [file] = event.target.files ?? [];
            if (file !== undefined) void readFile(file).then(onFile);
          }}
        />
      </label>
    </nav>
  );
}
