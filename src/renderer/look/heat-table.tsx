/** A heatmap as a table: a figure in each cell, so that colour alone tells nothing. */

import './figure-table.css';
import { tintColour } from '../chart-page/chart-page.tsx';

export interface HeatTableCell {
  /** The column it stands in. */
  readonly column: string;
  /** 0 to 1; null where nothing was played. */
  readonly strength: number | null;
  /** What the cell counts, for the eye; empty where there is nothing to say. */
  readonly figure: string;
  /** The same in words. */
  readonly words: string;
  /** What a press does; null: nothing. */
  readonly onPress: (() => void) | null;
  /** Whether what it leads to is shown; only where a press opens something beside the table. */
  readonly isOpen?: boolean;
}

export interface HeatTableRow {
  readonly name: string;
  readonly cells: readonly HeatTableCell[];
}

interface HeatTableProps {
  readonly title: string;
  /** What the columns are; empty where they say it themselves. */
  readonly columnsAre: string;
  readonly columns: readonly string[];
  readonly rows: readonly HeatTableRow[];
}

export function HeatTable({ title, columnsAre, columns, rows }: HeatTableProps) {
  return (
    // biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keys too
    <section className="heatmap" tabIndex={0} aria-label={title}>
      <table className="figure-table">
        <thead>
          <tr>
            {columnsAre === '' ? <td /> : <th scope="col">{columnsAre}</th>}
            {columns.map((column) => (
              <th key={column} scope="col">
                {column}
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {rows.map(({ name, cells }) => (
            <tr key={name}>
              <th scope="row">{name}</th>
              {cells.map((cell) => (
                <Cell key={cell.column} cell={cell} />
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </section>
  );
}

function Cell({ cell }: { readonly cell: HeatTableCell }) {
  const { strength, figure, words, onPress, isOpen } = cell;
  return (
    <td
      style={strength === null ? {} : { backgroundColor: tintColour(strength) }}
      className={strength === null ? 'not-played' : ''}
    >
      {onPress === null || figure === '' ? (
        figure
      ) : (
        <button
          type="button"
          title={words}
          aria-label={words}
          aria-expanded={isOpen}
          onClick={onPress}
        >
          {figure}
        </button>
      )}
    </td>
  );
}
