/** The chart with all that is set for it, as one file for a student or a teacher. */

import { useState } from 'react';
import type { ChartRow } from '../../../../shared/bridge/index.ts';
import { HAND_OVER_ENDING } from '../../../../shared/hand-over-ending.ts';
import { useProgram } from '../../app/program.tsx';
import { refusalWords } from '../../app/refusal-words.ts';
import { fileName, saveFile } from '../../app/save-file.ts';
import { FailureNotice } from '../../look/failure-notice.tsx';
import { CheckField, NumberField } from '../../look/fields.tsx';
import type { PracticeChoice } from '../../prepare/practice-choice.ts';

interface HandOverFormProps {
  readonly chart: ChartRow;
  readonly choice: PracticeChoice;
  readonly onChange: (choice: PracticeChoice) => void;
}

/** Where a goal starts when there was none. */
const FIRST_GOAL_BPM = 120;

export function HandOverForm({ chart, choice, onChange }: HandOverFormProps) {
  const { bridge } = useProgram();
  const [note, setNote] = useState('');
  const [failure, setFailure] = useState<string | null>(null);
  async function save(): Promise<void> {
    const kept = await bridge.ask('charts.melody', { chartId: chart.chartId });
    if (!kept.ok) return setFailure(refusalWords(kept.refusal));
    setFailure(null);
    const { writeHandOver } = await import('../../prepare/hand-over.ts');
    saveFile(
      `${fileName(chart.title)}${HAND_OVER_ENDING}`,
      writeHandOver({ ...chart, melody: kept.value.melody }, choice, note, null),
      'application/json',
    );
  }

  return (
    <details>
      <summary>Goal, and handing this chart over</summary>
      <div className="row">
        <CheckField
          label="A tempo to reach"
          checked={choice.goalBpm !== null}
          onChange={(has) => onChange({ ...choice, goalBpm: has ? FIRST_GOAL_BPM : null })}
        />
        {choice.goalBpm !== null && (
          <NumberField
            label="Goal"
            min={30}
            max={300}
            value={choice.goalBpm}
            onChange={(goalBpm) => onChange({ ...choice, goalBpm })}
          />
        )}
      </div>
      <label className="field remark">
        A note to whoever opens it
        <textarea
          rows={3}
          maxLength={10_000}
          value={note}
          onChange={(event) => setNote(event.target.value)}
        />
      </label>
      <p>
        <button type="button" onClick={() => void save()}>
          Save as one file
        </button>
      </p>
      <FailureNotice words={failure} />
      <p className="soft">
        The file carries the chart, its melody, plan, key, level, tempo, goal, bars and your note.
        Dropped on this page it opens ready to play. A take goes back the same way, from its review.
      </p>
    </details>
  );
}
