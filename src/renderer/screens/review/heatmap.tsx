/** A heatmap as a table: a figure in each cell, so that colour alone tells nothing. */

import { tintColour } from '../../chart-page/chart-page.tsx';
import type { HeatRow } from './heatmap-model.ts';

interface HeatmapProps {
  readonly title: string;
  readonly rows: readonly HeatRow[];
  readonly onPlace: (chorus: number, bar: number) => void;
}

export function Heatmap({ title, rows, onPlace }: HeatmapProps) {
  const bars = rows[0]?.cells.map(({ bar }) => bar) ?? [];
  return (
    <section className="heatmap">
      <h2>{title}</h2>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keys too */}
      <section className="heatmap-scroll" tabIndex={0} aria-label={title}>
        <table>
          <thead>
            <tr>
              <th scope="col">bar</th>
              {bars.map((bar) => (
                <th key={bar} scope="col">
                  {bar}
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {rows.map(({ name, cells }) => (
              <tr key={name}>
                <th scope="row">{name}</th>
                {cells.map(({ bar, chorus, strength, figure, words }) => (
                  <td
                    key={bar}
                    style={strength === null ? {} : { backgroundColor: tintColour(strength) }}
                    className={strength === null ? 'not-played' : ''}
                  >
                    {chorus === null || figure === '' ? (
                      figure
                    ) : (
                      <button
                        type="button"
                        title={words}
                        aria-label={words}
                        onClick={() => onPlace(chorus, bar)}
                      >
                        {figure}
                      </button>
                    )}
                  </td>
                ))}
              </tr>
            ))}
          </tbody>
        </table>
      </section>
    </section>
  );
}
