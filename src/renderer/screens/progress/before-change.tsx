/** What was played of charts before they had the form they have now: it stays to be seen, and counts no more. */

import type { PracticeBefore } from '../../../../shared/bridge/index.ts';
import { counted } from '../../../core/findings/index.ts';
import { withSigns } from '../../look/signs.ts';
import { dayWords } from './progress-model.ts';

export function BeforeChange({ before }: { readonly before: readonly PracticeBefore[] }) {
  if (before.length === 0) return null;
  return (
    <details>
      <summary>Before the change: {counted(before.length, 'practice')} of other chords</summary>
      <p className="soft">
        The bars, chords or palettes of these charts were changed since. What was played before is
        kept, and not counted; it counts again when the chart is as it was.
      </p>
      <ul className="plain-list">
        {before.map((practice) => (
          <li key={practice.lastTakeId}>{withSigns(beforeWords(practice))}</li>
        ))}
      </ul>
    </details>
  );
}

function beforeWords(practice: PracticeBefore): string {
  const { chartTitle, level, plan, key, takes, lastDay, lastBpm, heldBpm } = practice;
  const held = heldBpm === null ? 'no tempo had held' : `${heldBpm} had held`;
  const last = `the last at ${lastBpm} on ${dayWords(lastDay)}`;
  return `${chartTitle}: ${level}, plan ${plan}, in ${key}. ${counted(takes, 'take')}, ${last}; ${held}.`;
}
