/** What the weeks come to: which tempo holds, what stands in the way, what broke most, and the next step with one press. */

import './progress.css';
import { useMemo, useState } from 'react';
import type { Settings } from '../../../../shared/bridge/index.ts';
import { percent } from '../../../core/findings/index.ts';
import {
  describeReadiness,
  drillTempoBpm,
  type Practice,
  practicesOf,
  weakestPlace,
} from '../../../core/progress/index.ts';
import { BreakNotice } from '../../app/break-notice.tsx';
import { useProgram } from '../../app/program.tsx';
import { refusalWords } from '../../app/refusal-words.ts';
import { useCall } from '../../app/use-call.ts';
import { CAUTION } from '../../app/words.ts';
import { withSigns } from '../../look/signs.ts';
import { type Again, barsInWords, drillAgain, playAgain } from '../../prepare/play-again.ts';
import { readPracticeChoice } from '../../prepare/practice-choice.ts';
import { playedTakes, STALE_DAYS, tempoPlot } from './progress-model.ts';
import { TempoPlot } from './tempo-plot.tsx';

interface ProgressScreenProps {
  readonly onReview: (takeId: string) => void;
  /** A drill goes on by itself; `nudge` says whether its tempo follows the line. */
  readonly onPlay: (again: Again, nudge: boolean) => void;
}

/** Takes looked at, newest first. */
const MOST_TAKES = 10_000;

export default function ProgressScreen({ onReview, onPlay }: ProgressScreenProps) {
  const { bridge } = useProgram();
  const rows = useCall(bridge, 'takes.list', { chartId: null, limit: MOST_TAKES });
  const settings = useCall(bridge, 'settings.get', {}, false);
  const practices = useMemo(
    () => practicesOf(playedTakes(rows.value ?? []), Date.now()),
    [rows.value],
  );
  const failure = rows.failure ?? settings.failure;
  return (
    <>
      <h2 tabIndex={-1} data-focus-home>
        Progress
      </h2>
      {failure !== null && <p className="notice">{failure}</p>}
      <BreakNotice playingSinceMs={null} />
      <p className="soft caution">{CAUTION}</p>
      {rows.value !== null && practices.length === 0 && (
        <p>
          Nothing to tell yet. Play two whole choruses of a chart at one tempo: from then on this
          page says which tempo holds, what stands in the way of a faster one, and which bars to
          practise alone. Takes of some bars only are drills and are not counted here.
        </p>
      )}
      {practices.map((practice) => (
        <PracticeCard
          key={`${practice.chartId} ${practice.plan} ${practice.key} ${practice.level}`}
          practice={practice}
          settings={settings.value ?? {}}
          onReview={onReview}
          onPlay={onPlay}
        />
      ))}
    </>
  );
}

interface PracticeCardProps extends ProgressScreenProps {
  readonly practice: Practice;
  readonly settings: Settings;
}

function PracticeCard({ practice, settings, onReview, onPlay }: PracticeCardProps) {
  const { bridge } = useProgram();
  const [failure, setFailure] = useState<string | null>(null);
  const { chartId, chartTitle, plan, key, level, takes, tempos, holdsBpm, present } = practice;
  const { goalBpm } = readPracticeChoice(settings, chartId);
  const { verdict } = present;
  const weak = weakestPlace(present.takes.flatMap(({ evidence }) => evidence.bars));
  const drillBpm = drillTempoBpm(present.tempoBpm);

  /** The set-up of the last take leads on: chart, plan, key and rules as they were. */
  async function go(kind: 'next' | 'drill'): Promise<void> {
    const [last] = takes;
    if (last === undefined) return;
    const got = await bridge.ask('takes.get', { takeId: last.takeId });
    if (!got.ok) return setFailure(refusalWords(got.refusal));
    const { setUp } = got.value;
    const again =
      kind === 'drill' && weak !== null
        ? drillAgain(setUp, weak)
        : playAgain(setUp, { tempoBpm: verdict.nextTempoBpm });
    if (again !== null) onPlay(again, kind === 'drill');
  }

  return (
    <section className="practice" aria-label={`${chartTitle}, ${level}`}>
      <h3>
        {chartTitle}: {level}, plan {plan}, in {withSigns(key)}
      </h3>
      <p>
        {holdsBpm === null ? 'No tempo holds yet.' : `Holds at ${holdsBpm}.`} Last played at{' '}
        {present.tempoBpm}, {sinceWords(practice.daysSince)}.
        {goalBpm !== null && ` Goal: ${goalBpm}.`}
      </p>
      <p>{describeReadiness(verdict, present.tempoBpm)}</p>
      {weak !== null && (
        <p>
          Broke most: {barsInWords(weak)}, {percent(weak.clean / weak.slots)} of {weak.slots} slots
          clean.
        </p>
      )}
      <div className="row">
        <button type="button" className="main" onClick={() => void go('next')}>
          Play at {verdict.nextTempoBpm}
        </button>
        {weak !== null && (
          <button type="button" onClick={() => void go('drill')}>
            Drill {barsInWords(weak)} at {drillBpm}
          </button>
        )}
      </div>
      {failure !== null && (
        <p className="notice" role="alert">
          {failure}
        </p>
      )}
      <TempoPlot model={tempoPlot(practice, goalBpm)} onTake={onReview} />
      <details>
        <summary>All tempos</summary>
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
            {tempos.map(({ tempoBpm, takes: own, verdict: judged }) => (
              <tr key={tempoBpm}>
                <td>{tempoBpm}</td>
                <td>{own.length}</td>
                <td>{judged.slots === 0 ? '–' : percent(judged.clean / judged.slots)}</td>
                <td>
                  {judged.slots === 0
                    ? '–'
                    : `${percent(judged.interval.lower)} and ${percent(judged.interval.upper)}`}
                </td>
                <td>{judged.verdict}</td>
              </tr>
            ))}
          </tbody>
        </table>
        <p className="soft">Of the last 30 days, until three choruses are reached.</p>
      </details>
    </section>
  );
}

function sinceWords(days: number): string {
  if (days <= 0) return 'today';
  const stale = days >= STALE_DAYS ? ': it has gone stale' : '';
  return `${days === 1 ? 'yesterday' : `${days} days ago`}${stale}`;
}
