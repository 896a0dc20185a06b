/** A drill over a form: the same wish as for an example line, and a written line that is played, shown and saved as one. */

import type { Form } from '../../chart/index.ts';
import { failure, type Outcome, success } from '../../problem.ts';
import { blankLine, blockedPlace } from '../blank-line.ts';
import type { LineWish } from '../wish.ts';
import type { WrittenLine } from '../written-line.ts';
import { brokenSevenths } from './broken-sevenths.ts';
import { atItsLevel } from './drill-level.ts';
import { drillPlaces } from './drill-places.ts';
import type { DrillProblem, DrillRule } from './drill-problem.ts';
import { type DrillStyle, drillOf } from './drills.ts';
import { guideLine, halfNotes } from './guide-line.ts';
import { approachNote, enclosure } from './lead-ins.ts';
import { ascending, brokenThirds, continuousScale, type DrillFrame } from './scale-rules.ts';
import { type LineOutcome, targetLine } from './target-line.ts';
import { keysIn } from './tones.ts';
import { type WalkRule, walk } from './walk.ts';

/**
 * What a player asks of a drill; a `LineWish` is one. Level, style, shape, direction and rules are the drill's own. The seed chooses approach
 * notes and where a guide-tone line begins; all other drills are the same with every seed but for their velocities.
 * `afterMidi`: the drill begins on the tone it could begin on that is nearest to that key.
 */
export type DrillWish = Omit<LineWish, 'level' | 'style' | 'density' | 'direction' | 'rules'>;

/**
 * Writes a drill over the bars of a form (cut it with `sliceForm` for a range). The line's level is the lowest from the drill's
 * own upwards at which the grader, by that level's own rules, finds no fault in it; it finds none at `leaps` in any drill
 * but the guide-tone line, and none in that at `free`. Problems: what of the wish cannot be met, no bars, too many notes, or
 * the place where the drill ends and why.
 */
export function writeDrill(
  form: Form,
  style: DrillStyle,
  wish: DrillWish,
): Outcome<WrittenLine, DrillProblem> {
  const { level } = drillOf(style);
  const own: LineWish = { ...wish, level, style: 'teaching', density: 0, direction: 0, rules: {} };
  const blank = blankLine(form, own, style === 'guideTones' ? halfNotes : null);
  if (!blank.ok) return blank;
  const { entries } = blank.value;
  const blocked = (rule: DrillRule, atSlot: number): Outcome<never, DrillProblem> =>
    failure({ code: 'drill', style, rule, ...blockedPlace(entries[atSlot]) });

  const places = drillPlaces(form, entries);
  if (places === null) return blocked('noChord', 0);
  const outcome = drillLine(style, { places, wish }, wish.seed);
  if (!outcome.ok) return blocked(outcome.rule, outcome.atSlot);
  return success(atItsLevel(form, blank.value, outcome.midis));
}

function drillLine(style: DrillStyle, frame: DrillFrame, seed: number): LineOutcome {
  const { places, wish } = frame;
  switch (style) {
    case 'continuousScale':
      return walkLine(frame, continuousScale(frame));
    case 'ascending':
      return walkLine(frame, ascending(frame));
    case 'brokenThirds':
      return walkLine(frame, brokenThirds(frame));
    case 'brokenSevenths':
      return walkLine(frame, brokenSevenths(frame));
    case 'approachNotes':
      return targetLine(frame, approachNote(places, wish.register, seed));
    case 'enclosures':
      return targetLine(frame, enclosure(places, wish.register));
    case 'guideTones':
      return guideLine(frame, seed);
  }
}

function walkLine<Pose>(frame: DrillFrame, rule: WalkRule<Pose>): LineOutcome {
  const walked = walk(frame.places, frame.wish.register, rule);
  if (walked.ok) return walked;
  return { ok: false, atSlot: walked.atSlot, rule: walkEnd(frame, walked.atSlot, walked.offered) };
}

function walkEnd({ places, wish }: DrillFrame, atSlot: number, offered: boolean): DrillRule {
  const keys = keysIn(places[atSlot]?.palette.mask ?? 0, wish.register);
  if (keys.length === 0) return 'register';
  if (atSlot === 0 && wish.startMidi !== null) return 'start';
  if (offered) return 'direction';
  return keys.length === 1 ? 'oneTone' : 'span';
}
