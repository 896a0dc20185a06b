/**
 * A practice over the days: its tempos, a full dot where nine slots in ten were clean, a ring where not; under them how clean
 * they were, each with how sure that is. One stop on the way by keyboard, walked by arrows.
 */

import { type KeyboardEvent, useRef, useState } from 'react';
import { percent } from '../../../core/findings/index.ts';
import { walk } from '../../look/walk.ts';
import type { PlotMark, TempoPlotModel } from './progress-model.ts';

const WIDTH = 640;
const LEFT = 52;
/** Room beside the dots for the names of levels. */
const RIGHT = 80;
const MARGIN = 12;
/** Tops and heights of both pictures, and where the days stand. */
const TEMPOS = { top: 12, height: 110 };
const RATES = { top: 146, height: 84 };
const DAYS_AT = 252;
const HEIGHT = 260;
/** Of a dot: smaller where there are many. */
const RADIUS = 6;
const SMALL_RADIUS = 4;
const MANY_MARKS = 60;

interface TempoPlotProps {
  readonly model: TempoPlotModel;
  readonly onTake: (takeId: string) => void;
}

const px = (x: number): number => LEFT + MARGIN + x * (WIDTH - LEFT - RIGHT - 2 * MARGIN);
const tempoY = (y: number): number => TEMPOS.top + y * TEMPOS.height;
const rateY = (y: number): number => RATES.top + y * RATES.height;

export function TempoPlot({ model, onTake }: TempoPlotProps) {
  const { marks, goalY, cleanY, lowestBpm, highestBpm, lowestRate, firstDay, lastDay } = model;
  const [wanted, setWanted] = useState(marks.length - 1);
  const drawing = useRef<SVGSVGElement>(null);
  const current = Math.min(wanted, marks.length - 1);
  const radius = marks.length > MANY_MARKS ? SMALL_RADIUS : RADIUS;

  function walkMarks(event: KeyboardEvent): void {
    const dots = drawing.current?.querySelectorAll('a') ?? [];
    walk(event, [...dots], ['ArrowLeft', 'ArrowRight']);
  }

  return (
    <svg
      ref={drawing}
      className="tempo-plot"
      viewBox={`0 0 ${WIDTH} ${HEIGHT}`}
      aria-label={`Tempos from ${lowestBpm} to ${highestBpm} and how clean they were, from ${firstDay} to ${lastDay}`}
    >
      <Scale top={tempoY(0)} bottom={tempoY(1)} highest={`${highestBpm}`} lowest={`${lowestBpm}`} />
      <Scale top={rateY(0)} bottom={rateY(1)} highest="100 %" lowest={percent(lowestRate)} />
      {goalY !== null && <Level y={tempoY(goalY)} words="goal" />}
      <Level y={rateY(cleanY)} words="90 % clean" />
      {marks.map((mark) => (
        <Rate key={mark.takeId} mark={mark} />
      ))}
      {marks.map(({ x, y, takeId, isClean, words }, index) => (
        <a
          key={takeId}
          href={`#take-${takeId}`}
          tabIndex={index === current ? 0 : -1}
          aria-label={words}
          onFocus={() => setWanted(index)}
          onClick={(event) => {
            event.preventDefault();
            onTake(takeId);
          }}
          onKeyDown={walkMarks}
        >
          <circle className={isClean ? 'take held' : 'take'} cx={px(x)} cy={tempoY(y)} r={radius}>
            <title>{words}</title>
          </circle>
        </a>
      ))}
      <text x={LEFT} y={DAYS_AT} className="axis-words from">
        {firstDay}
      </text>
      {lastDay !== firstDay && (
        <text x={WIDTH - RIGHT} y={DAYS_AT} className="axis-words">
          {lastDay}
        </text>
      )}
    </svg>
  );
}

interface ScaleProps {
  readonly top: number;
  readonly bottom: number;
  readonly highest: string;
  readonly lowest: string;
}

function Scale({ top, bottom, highest, lowest }: ScaleProps) {
  return (
    <g>
      <line className="axis" x1={LEFT} x2={LEFT} y1={top} y2={bottom} />
      <text x={LEFT - 6} y={top + 5} className="axis-words">
        {highest}
      </text>
      <text x={LEFT - 6} y={bottom + 3} className="axis-words">
        {lowest}
      </text>
    </g>
  );
}

function Level({ y, words }: { readonly y: number; readonly words: string }) {
  return (
    <g>
      <line className="goal" x1={LEFT} x2={WIDTH - RIGHT} y1={y} y2={y} />
      <text x={WIDTH - RIGHT + 6} y={y + 4} className="axis-words from">
        {words}
      </text>
    </g>
  );
}

/** A clean rate as a short stroke on the upright of its interval. */
function Rate({ mark }: { readonly mark: PlotMark }) {
  const x = px(mark.x);
  const { y, upperY, lowerY } = mark.rate;
  return (
    <g className="rate">
      <line x1={x} x2={x} y1={rateY(upperY)} y2={rateY(lowerY)} />
      <line x1={x - 4} x2={x + 4} y1={rateY(y)} y2={rateY(y)} />
    </g>
  );
}
