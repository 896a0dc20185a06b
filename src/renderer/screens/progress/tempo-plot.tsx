/** The tempos of a practice over the days: a full dot held nine slots in ten, a ring did not. */

import type { TempoPlotModel } from './progress-model.ts';

const WIDTH = 640;
const HEIGHT = 130;
const LEFT = 44;
const MARGIN = 12;

interface TempoPlotProps {
  readonly model: TempoPlotModel;
  readonly onTake: (takeId: string) => void;
}

export function TempoPlot({ model, onTake }: TempoPlotProps) {
  const { dots, goalY, lowestBpm, highestBpm } = model;
  const px = (x: number): number => LEFT + MARGIN + x * (WIDTH - LEFT - 2 * MARGIN);
  const py = (y: number): number => MARGIN + y * (HEIGHT - 2 * MARGIN);
  return (
    // biome-ignore lint/a11y/useSemanticElements: a drawing that holds things to press
    <svg
      className="tempo-plot"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      role="group"
      aria-label={`Tempos from ${lowestBpm} to ${highestBpm}, over the days`}
    >
      <line className="axis" x1={LEFT} x2={LEFT} y1={MARGIN} y2={HEIGHT - MARGIN} />
      <text x={LEFT - 6} y={py(0) + 5} className="axis-words">
        {highestBpm}
      </text>
      <text x={LEFT - 6} y={py(1) + 3} className="axis-words">
        {lowestBpm}
      </text>
      {goalY !== null && (
        <g>
          <line className="goal" x1={LEFT} x2={WIDTH - MARGIN} y1={py(goalY)} y2={py(goalY)} />
          <text x={WIDTH - MARGIN} y={py(goalY) - 4} className="axis-words">
            goal
          </text>
        </g>
      )}
      {dots.map(({ x, y, takeId, isClean, words }) => (
        // biome-ignore lint/a11y/useSemanticElements: a button has no place in a drawing
        <circle
          key={takeId}
          className={isClean ? 'take held' : 'take'}
          cx={px(x)}
          cy={py(y)}
          r={6}
          role="button"
          tabIndex={0}
          aria-label={words}
          onClick={() => onTake(takeId)}
          onKeyDown={(event) => {
            if (event.key === 'Enter') onTake(takeId);
          }}
        >
          <title>{words}</title>
        </circle>
      ))}
    </svg>
  );
}
