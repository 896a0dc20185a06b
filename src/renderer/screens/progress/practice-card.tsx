/** One practice: what its tempo should do and why; opened, its rate of gain, its weak places, its plot and tempos. */

import { useState } from 'react';
import type { PracticeRow } from '../../../../shared/bridge/index.ts';
import { percent } from '../../../core/findings/index.ts';
import {
  describeBars,
  describeDrill,
  describeGain,
  describePlace,
  describeReadiness,
  describeStanding,
  nameOfPractice,
} from '../../../core/progress/index.ts';
import { useProgram } from '../../app/program.tsx';
import { useAnswer } from '../../data/index.ts';
import { FailureNotice } from '../../look/failure-notice.tsx';
import { withSigns } from '../../look/signs.ts';
import { type NamedPlay, playNamed } from '../../prepare/play-named.ts';
import { tempoPlot } from './progress-model.ts';
import type { ProgressWays } from './progress-screen.tsx';
import { TempoPlot } from './tempo-plot.tsx';

interface PracticeCardProps extends ProgressWays {
  readonly practice: PracticeRow;
  /** The practice played last is open from the start. */
  readonly isFirst: boolean;
}

export function PracticeCard({ practice, isFirst, onReview, onPlay }: PracticeCardProps) {
  const { bridge } = useProgram();
  const [failure, setFailure] = useState<string | null>(null);
  const [isOpen, setOpen] = useState(isFirst);
  const { chartTitle, plan, key, level, standing } = practice;
  const { tempoBpm, verdict } = standing.advice;
  const nextBpm = verdict.nextTempoBpm;

  async function play(wish: Pick<NamedPlay, 'tempoBpm' | 'bars' | 'choruses'>): Promise<void> {
    const ready = await playNamed(bridge, { ...practice, ...wish });
    if (ready.ok) onPlay(ready.value, wish.choruses === null);
    else setFailure(ready.problems.join(' '));
  }

  return (
    <section className="practice" aria-label={`${chartTitle}, ${level}`}>
      <h3>
        {chartTitle}: {level}, plan {plan}, in {withSigns(key)}
      </h3>
      <p>{describeStanding(standing)}</p>
      <p>{withSigns(describeReadiness(verdict, tempoBpm))}</p>
      <div className="row">
        <button
          type="button"
          className="main"
          onClick={() => void play({ tempoBpm: nextBpm, bars: null, choruses: NEXT_CHORUSES })}
        >
          Play at {nextBpm}
        </button>
      </div>
      <FailureNotice words={failure} />
      <details open={isOpen} onToggle={(event) => setOpen(event.currentTarget.open)}>
        <summary>Where it breaks, and its tempos over the days</summary>
        {isOpen && (
          <Detail
            practice={practice}
            onReview={onReview}
            onDrill={(bars, tempoBpm) => void play({ bars, tempoBpm, choruses: null })}
          />
        )}
      </details>
    </section>
  );
}

/** A raise is judged on two whole choruses. Source: `grading.md`. */
const NEXT_CHORUSES = 2;

interface DetailProps extends Pick<PracticeCardProps, 'practice' | 'onReview'> {
  readonly onDrill: (
    bars: { readonly from: number; readonly to: number },
    tempoBpm: number,
  ) => void;
}

function Detail({ practice, onReview, onDrill }: DetailProps) {
  const { goalBpm } = practice.standing;
  const { value, failure } = useAnswer('progress.practice', {
    practice: nameOfPractice(practice),
  });
  if (failure !== null) return <p className="notice">{failure}</p>;
  if (value === null) return <p>One moment …</p>;
  return (
    <>
      <p>{describeGain(value.gain)}</p>
      <div className="plot-frame">
        <TempoPlot model={tempoPlot(value, goalBpm)} onTake={onReview} />
      </div>
      <p className="soft">
        A full dot: nine slots in ten clean or more; a ring: fewer. Under it the clean rate, and how
        sure it is. Each leads to its take; arrow keys go from one to the next.
      </p>
      {value.places.length > 0 && (
        <ul className="plain-list places">
          {value.places.map(({ place, drill, state }) => (
            <li key={place.from}>
              <p>{withSigns(describePlace(place))}</p>
              <p className="soft">{withSigns(describeDrill(state, drill))}</p>
              <button type="button" onClick={() => onDrill(drill, state.tempoBpm)}>
                Drill {describeBars(drill)} at {state.tempoBpm}
              </button>
            </li>
          ))}
        </ul>
      )}
      <table>
        <thead>
          <tr>
            <th scope="col">Tempo</th>
            <th scope="col">Takes</th>
            <th scope="col">Clean</th>
            <th scope="col">Surely between</th>
            <th scope="col">Readiness</th>
          </tr>
        </thead>
        <tbody>
          {value.tempos.map(({ tempoBpm, takes, slots, clean, lower, upper, verdict }) => (
            <tr key={tempoBpm}>
              <td>{tempoBpm}</td>
              <td>{takes}</td>
              <td>{slots === 0 ? '–' : percent(clean / slots)}</td>
              <td>{slots === 0 ? '–' : `${percent(lower)} and ${percent(upper)}`}</td>
              <td>{verdict}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p className="soft">
        Of the last 30 days, until three choruses are reached; more of them where faults come in
        clusters.
      </p>
    </>
  );
}
