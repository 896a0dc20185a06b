/** What the weeks come to: which tempo holds, what stands in the way, where it breaks, and the next step with one press. */

import './progress.css';
import { useState } from 'react';
import { practiceId } from '../../../core/progress/index.ts';
import { BreakNotice } from '../../app/break-notice.tsx';
import { CAUTION } from '../../app/words.ts';
import { useAnswer } from '../../data/index.ts';
import type { Again } from '../../prepare/play-again.ts';
import { BeforeChange } from './before-change.tsx';
import { HeatSection } from './heat-section.tsx';
import { LadderSection } from './ladder-section.tsx';
import { PracticeCard } from './practice-card.tsx';

export interface ProgressWays {
  readonly onReview: (takeId: string) => void;
  /** A drill goes on by itself; `nudge` says whether its tempo follows the line. */
  readonly onPlay: (again: Again, nudge: boolean) => void;
}

/** Practices shown before more are asked for: what was played of late. */
const FIRST_SHOWN = 8;

export default function ProgressScreen({ onReview, onPlay }: ProgressWays) {
  const [showsAll, setShowsAll] = useState(false);
  const first = useAnswer('progress.practices', { most: FIRST_SHOWN });
  const whole = useAnswer('progress.practices', showsAll ? { most: null } : null);
  const value = whole.value ?? first.value;
  const failure = first.failure ?? whole.failure;
  const { practices, all, before } = value ?? { practices: [], all: [], before: [] };
  return (
    <>
      <h2 tabIndex={-1} data-focus-home>
        Progress
      </h2>
      {failure !== null && <p className="notice">{failure}</p>}
      <BreakNotice playingSinceMs={null} />
      <p className="soft caution">{CAUTION}</p>
      {value !== null && all.length === 0 && (
        <p>
          Nothing to tell yet. Play a chart from its first bar to its last: from then on this page
          says which tempo holds, what stands in the way of a faster one, and which bars to practise
          alone. A faster tempo is proposed after two takes at one tempo, or after one of four
          choruses. Takes of some bars only are drills and are not counted here.
        </p>
      )}
      {practices.map((practice, index) => (
        <PracticeCard
          key={practiceId(practice)}
          practice={practice}
          isFirst={index === 0}
          onReview={onReview}
          onPlay={onPlay}
        />
      ))}
      {practices.length < all.length && (
        <button type="button" onClick={() => setShowsAll(true)}>
          Show all {all.length}
        </button>
      )}
      {all.length > 0 && (
        <>
          <LadderSection practices={all} onPlay={onPlay} />
          <HeatSection practices={all} onReview={onReview} />
        </>
      )}
      <BeforeChange before={before} />
    </>
  );
}
