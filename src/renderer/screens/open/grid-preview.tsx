/** The notes of a file over the grid of the form: one sees at a glance whether they lie on it. */

import { withSigns } from '../../look/signs.ts';
import { type GridPreview, keyRange } from './grid-model.ts';

const WIDTH = 1000;
const HEIGHT = 190;
const HEAD = 34;
const NOTE_HEIGHT = 5;

export function GridPicture({ preview }: { readonly preview: GridPreview }) {
  const { fromMs, toMs, lines, notes } = preview;
  const x = (atMs: number): number => ((atMs - fromMs) / (toMs - fromMs)) * WIDTH;
  const { low, high } = keyRange(notes);
  const y = (midi: number): number => HEAD + ((high - midi) / (high - low)) * (HEIGHT - HEAD - 8);
  return (
    <svg
      className="grid-preview"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="img"
      aria-label={`${notes.length} notes over ${lines.filter(({ bar }) => bar !== null).length} bars`}
    >
      {lines.map(({ atMs, bar }) => (
        <g key={atMs}>
          <line
            className={bar === null ? 'grid-beat' : 'grid-bar'}
            x1={x(atMs)}
            x2={x(atMs)}
            y1={bar === null ? HEAD : 0}
            y2={HEIGHT}
          />
          {bar !== null && (
            <>
              <text className="grid-bar-words" x={x(atMs) + 5} y={13}>
                chorus {bar.chorus}, bar {bar.bar}
              </text>
              <text className="grid-chords" x={x(atMs) + 5} y={29}>
                {withSigns(bar.chords)}
              </text>
            </>
          )}
        </g>
      ))}
      {notes.map(({ atMs, midi, isLeftHand }) => (
        <rect
          key={`${atMs} ${midi}`}
          className={isLeftHand ? 'grid-note left' : 'grid-note'}
          x={x(atMs)}
          y={y(midi)}
          width={14}
          height={NOTE_HEIGHT}
        />
      ))}
    </svg>
  );
}
