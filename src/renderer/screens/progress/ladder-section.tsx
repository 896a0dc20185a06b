/** The rungs of a chart: what is done, what is next; nothing is locked. */

import { useState } from 'react';
import type { LadderReply, NamedPractice } from '../../../../shared/bridge/index.ts';
import { describeRung, nameOfPractice } from '../../../core/progress/index.ts';
import { useProgram } from '../../app/program.tsx';
import { LEVEL_WORDS } from '../../app/words.ts';
import { useAnswer } from '../../data/index.ts';
import { FailureNotice } from '../../look/failure-notice.tsx';
import { SelectField } from '../../look/fields.tsx';
import { withSigns } from '../../look/signs.ts';
import { playNamed } from '../../prepare/play-named.ts';
import type { ProgressWays } from './progress-screen.tsx';

interface LadderSectionProps extends Pick<ProgressWays, 'onPlay'> {
  readonly practices: readonly NamedPractice[];
}

type Rung = LadderReply['rungs'][number];

const STATE_WORDS = { done: 'done', goingOn: 'going on', notBegun: 'not begun' } as const;

export function LadderSection({ practices, onPlay }: LadderSectionProps) {
  const { bridge } = useProgram();
  const titles = new Map(practices.map(({ chartId, chartTitle }) => [chartId, chartTitle]));
  const [chosen, setChosen] = useState(practices[0]?.chartId ?? '');
  const [failure, setFailure] = useState<string | null>(null);
  const ladder = useAnswer('progress.ladder', { chartId: chosen });
  const rungs = ladder.value?.rungs ?? [];
  const begun = rungs.filter(({ state }) => state !== 'notBegun').map(({ key }) => key);
  const nextKey = rungs.find(({ isNext }) => isNext)?.key;
  const keys = Map.groupBy(rungs, ({ key }) => key);
  const shown = [...keys].filter(
    ([key], index) => index === 0 || key === nextKey || begun.includes(key),
  );

  async function play(rung: Rung) {
    const { tempoBpm } = rung;
    const named = { ...nameOfPractice(rung), tempoBpm, bars: null, choruses: 2 };
    const ready = await playNamed(bridge, named);
    if (ready.ok) onPlay(ready.value, false);
    else setFailure(ready.problems.join(' '));
  }

  return (
    <section aria-label="Ladder">
      <h2 className="below">Ladder</h2>
      <p className="soft">
        Each rung is a level with a plan; then the same in the next key. Nothing is locked: any rung
        can be played.
      </p>
      <SelectField
        label="Chart"
        value={chosen}
        options={[...titles].map(([value, words]) => ({ value, words }))}
        onChange={setChosen}
      />
      <FailureNotice words={failure ?? ladder.failure} />
      {shown.map(([key, own]) => (
        <div key={key} className="ladder-key">
          <h3>In {withSigns(key)}</h3>
          <ol className="ladder">
            {own.map((rung) => (
              <li key={`${rung.level} ${rung.plan}`} className={rung.isNext ? 'next' : ''}>
                <span>
                  <strong>{LEVEL_WORDS[rung.level]}</strong>, plan {rung.plan}:{' '}
                  {STATE_WORDS[rung.state]}
                  {rung.isNext && ', next'}. <span className="soft">{describeRung(rung)}</span>
                </span>
                <button type="button" onClick={() => void play(rung)}>
                  Play at {rung.tempoBpm}
                </button>
              </li>
            ))}
          </ol>
        </div>
      ))}
      {keys.size > shown.length && (
        <p className="soft">
          {keys.size - shown.length} more keys follow; a rung of theirs shows once it is begun.
        </p>
      )}
    </section>
  );
}
