/** A take as a heatmap; a cell leads to its place. */

import { HeatTable } from '../../look/heat-table.tsx';
import type { HeatRow } from './heatmap-model.ts';

interface HeatmapProps {
  readonly title: string;
  readonly rows: readonly HeatRow[];
  readonly onPlace: (chorus: number, bar: number) => void;
}

export function Heatmap({ title, rows, onPlace }: HeatmapProps) {
  return (
    <section>
      <h2>{title}</h2>
      <HeatTable
        title={title}
        columnsAre="bar"
        columns={rows[0]?.cells.map(({ bar }) => String(bar)) ?? []}
        rows={rows.map(({ name, cells }) => ({
          name,
          cells: cells.map(({ bar, chorus, ...shown }) => ({
            ...shown,
            column: String(bar),
            onPress: chorus === null ? null : () => onPlace(chorus, bar),
          })),
        }))}
      />
    </section>
  );
}
