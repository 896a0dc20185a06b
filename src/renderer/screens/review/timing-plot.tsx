/** How early or late each note came, over the whole take: drift as a slope, evenness as spread. */

import type { Report } from '../../../core/grading/index.ts';
import { timingPoints } from './review-model.ts';

const WIDTH = 800;
const HEIGHT = 120;
/** The plot spans a hundred milliseconds either way: beyond it, more or less says nothing more. */
const SPAN_MS = 100;

export function TimingPlot({ report }: { readonly report: Report }) {
  if (report.level === 'free' || report.slots.length === 0) return null;
  return (
    <figure className="timing">
      <figcaption>
        Each note against the grid, from the first to the last: above early, below late; the rules
        lie {SPAN_MS / 2} ms off.
      </figcaption>
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
        {timingPoints(report, SPAN_MS).map(({ x, y, isFault }) => (
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
    </figure>
  );
}
