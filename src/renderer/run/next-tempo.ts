/** Whether the tempo of endless play is to follow the line, by the rule of readiness. Pure. */

import type { Form } from '../../core/chart/index.ts';
import type { Report } from '../../core/grading/index.ts';
import { describeReadiness, evidenceOf, judgeReadiness } from '../../core/progress/index.ts';
import { withSigns } from '../look/signs.ts';

/** How far the tempo may go from where the player set it, as shares of it. Own choice: it should not run away. */
const FLOOR = 0.7;
const CEILING = 1.25;

export interface NextTempo {
  readonly tempoBpm: number;
  /** What the player is told before the count-in at the new tempo. */
  readonly sentence: string;
}

/** The next tempo and why, or null to go on as it is. `setBpm` is the tempo the player chose. */
export function nextTempo(report: Report, form: Form, setBpm: number): NextTempo | null {
  const verdict = judgeReadiness([evidenceOf(report, form, 0)], report.tempo, 0, 'endless');
  if (verdict.verdict === 'hold') return null;
  const { nextTempoBpm } = verdict;
  if (nextTempoBpm < setBpm * FLOOR || nextTempoBpm > setBpm * CEILING) return null;
  const sentence = `${withSigns(describeReadiness(verdict, report.tempo))} The count-in that follows is at ${nextTempoBpm}.`;
  return { tempoBpm: nextTempoBpm, sentence };
}
