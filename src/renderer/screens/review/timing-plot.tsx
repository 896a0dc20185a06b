/** How early or late each note came, over the whole take: drift as a slope, evenness as spread. */

import { type MouseEvent, useMemo } from 'react';
import type { Report } from '../../../core/grading/index.ts';
import { type TimingPoint, timingPoints } from './review-model.ts';

const WIDTH = 800;
const HEIGHT = 120;
/** The plot spans a hundred milliseconds either way: beyond it, more or less says nothing more. */
const SPAN_MS = 100;

interface TimingPlotProps {
  readonly report: Report;
  /** Told the place of the note that was clicked, or, by the keyboard, of the one furthest from the grid. */
  readonly onPlace: (place: { readonly chorus: number; readonly bar: number }) => void;
}

export function TimingPlot({ report, onPlace }: TimingPlotProps) {
  const points = useMemo(() => timingPoints(report, SPAN_MS), [report]);
  const [first] = points;
  if (report.level === 'free' || first === undefined) return null;

  function showNote(event: MouseEvent<HTMLButtonElement>): void {
    const { left, width } = event.currentTarget.getBoundingClientRect();
    const byKeyboard = event.detail === 0;
    const x = (event.clientX - left) / width;
    const distance = (point: TimingPoint): number =>
      byKeyboard ? -Math.abs(point.y - 0.5) : Math.abs(point.x - x);
    onPlace(points.reduce((best, point) => (distance(point) < distance(best) ? point : best)));
  }

  return (
    <figure className="timing">
      <figcaption>
        Each note against the grid, from the first to the last: above early, below late; the rules
        lie {SPAN_MS / 2} ms off.
      </figcaption>
      <button type="button" onClick={showNote} aria-label="Show the note furthest from the grid">
        <svg viewBox={`0 0 ${WIDTH} ${HEIGHT}`} preserveAspectRatio="none" aria-hidden="true">
          {[0.25, 0.5, 0.75].map((share) => (
            <line
              key={share}
              x1="0"
              x2={WIDTH}
              y1={share * HEIGHT}
              y2={share * HEIGHT}
              className={share === 0.5 ? 'timing-grid main' : 'timing-grid'}
            />
          ))}
          {points.map(({ x, y, isFault }) => (
            <ellipse
              key={x}
              cx={x * WIDTH}
              cy={y * HEIGHT}
              rx={isFault ? 4 : 2}
              ry={isFault ? 4 : 2.4}
              className={isFault ? 'timing-dot fault' : 'timing-dot'}
            />
          ))}
        </svg>
      </button>
    </figure>
  );
}
