/** One bar's piece of the line: an unbroken stroke where it holds, shapes where it does not. */

import { memo } from 'react';
import type { BarDrawing, ChangeDrawing, NoteDrawing } from './line-model.ts';
import { earlyPath, intervalPath, latePath, outsidePath } from './mark-shapes.ts';

/** Units of the drawing; the bar stretches it to its own size. */
const WIDTH = 400;
const HEIGHT = 100;
const MARGIN = 9;

function px(x: number): number {
  return MARGIN + x * (WIDTH - MARGIN);
}
function py(y: number): number {
  return MARGIN + y * (HEIGHT - 2 * MARGIN);
}

export const LineInBar = memo(({ drawing }: { readonly drawing: BarDrawing | undefined }) => (
  <svg
    className="bar-line"
    viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
    preserveAspectRatio="none"
    aria-hidden="true"
  >
    {drawing?.changes.map((change) => (
      <ChangeMark key={change.from} change={change} />
    ))}
    {drawing?.gaps.map((x) => (
      <line key={x} className="line-gap" x1={px(x)} x2={px(x)} y1={MARGIN} y2={HEIGHT - MARGIN} />
    ))}
    {drawing?.strokes.map((stroke) => (
      <polyline
        key={`${stroke[0]?.x} ${stroke[0]?.y}`}
        className="line-stroke"
        points={stroke.map(({ x, y }) => `${px(x)},${py(y)}`).join(' ')}
      />
    ))}
    {drawing?.notes.map((note) => (
      <NoteMark key={note.slot} note={note} />
    ))}
  </svg>
));

/** Where the new palette was proven, a stem at the foot; where the old one hung on, a hatch as wide as it lasted. */
function ChangeMark({ change }: { readonly change: ChangeDrawing }) {
  if (change.arrival === 'late') {
    const width = Math.max(6, px(change.to) - px(change.from));
    return <rect className="line-old" x={px(change.from)} y={0} width={width} height={HEIGHT} />;
  }
  if (change.arrival !== 'onTime') return null;
  const x = px(change.from) - 5;
  return <line className="line-proof" x1={x} x2={x} y1={HEIGHT - 14} y2={HEIGHT} />;
}

/** A diamond is outside, a triangle an interval, a ring an extra, a bar to the left early, to the right late. */
function NoteMark({ note }: { readonly note: NoteDrawing }) {
  const x = px(note.x);
  const y = py(note.y);
  const state = note.settled ? '' : ' note-provisional';
  const { faults } = note;
  return (
    <g>
      {faults.includes('outside') ? (
        <path className={`note-outside${state}`} d={outsidePath(x, y)} />
      ) : faults.includes('interval') ? (
        <path className={`note-interval${state}`} d={intervalPath(x, y)} />
      ) : (
        <ellipse className={`note-clean${state}`} cx={x} cy={y} rx={4} ry={4.5} />
      )}
      {faults.includes('extra') && (
        <ellipse className="note-timing" cx={x} cy={y} rx={10} ry={11} />
      )}
      {faults.includes('early') && <path className="note-timing" d={earlyPath(x, y)} />}
      {faults.includes('late') && <path className="note-timing" d={latePath(x, y)} />}
    </g>
  );
}

/** The hatch of an old palette, defined once for a page of bars. */
export function LinePatterns() {
  return (
    <svg width="0" height="0" aria-hidden="true" className="hidden-words">
      <defs>
        <pattern
          id="old-palette"
          width="8"
          height="8"
          patternUnits="userSpaceOnUse"
          patternTransform="rotate(45)"
        >
          <line x1="0" y1="0" x2="0" y2="8" stroke="var(--fault-outside)" strokeWidth="2.5" />
        </pattern>
      </defs>
    </svg>
  );
}
