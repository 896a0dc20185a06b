/**
 * An example line over a form: clean by the grader at its level, with as many changes on time as any clean line can have,
 * each as early as can be where the style is `teaching`; and among those lines one by chance, the likelier the better it
 * suits the style and the shape. The same wish gives the same line.
 */

import type { Form } from '../chart/index.ts';
import { failure, type Outcome, success } from '../problem.ts';
import { type BlankLine, blankLine, blockedPlace, fillLine } from './blank-line.ts';
import { bestGraph } from './legal/best-graph.ts';
import { closingEntry, withClosing } from './legal/closing.ts';
import type { LineEntry } from './legal/entries.ts';
import { legalGraph } from './legal/graph.ts';
import { type LegalRules, rulesOf } from './legal/rules.ts';
import type { BlockedProblem, BlockingRule, LineProblem } from './problems.ts';
import { freeRhythm } from './rhythm.ts';
import { sampleLine } from './sample-line.ts';
import { guideMask } from './taste/guide-tones.ts';
import { type TastePlace, tastePlaces } from './taste/place-costs.ts';
import type { LineWish } from './wish.ts';
import type { WrittenLine } from './written-line.ts';

/**
 * Writes a line over the bars of a form (cut it with `sliceForm` for a range). One note for every slot of the level's
 * grid; at `free` a rhythm of its own, with rests and off-beats. After the last bar a closing note, approached as the level
 * opens where a line can. Problems: what of the wish cannot be met, no bars, too
 * many notes, or the place where every clean line ends, with the rule that ends it.
 */
export function writeLine(form: Form, wish: LineWish): Outcome<WrittenLine, LineProblem> {
  const blank = blankLine(form, wish, wish.level === 'free' ? freeRhythm : null);
  if (!blank.ok) return blank;
  const { entries, settings } = blank.value;
  const rules = rulesOf(wish, settings);
  const best = bestGraph(entries, rules);
  if (!best.ok) return failure(blockedAt(entries, rules, best.atEntry));
  const places = tastePlaces(entries, guideMasks(form), form.key);
  const closing = closingOf(blank.value, places);
  const closed = closing === null ? null : withClosing(best.graph, closing.entry, rules);
  if (closing === null || closed === null) {
    return success(fillLine(blank.value, sampleLine(best.graph, places, wish)));
  }
  const midis = sampleLine(closed, [...places, closing], wish);
  return success(fillLine(blank.value, midis.slice(0, -1), midis.at(-1) ?? null));
}

/** The place of the closing note: as strong as any, and any tone of its chord closes. Null where no chord comes next. */
function closingOf(
  { course: { next }, entries, onsets }: BlankLine,
  places: readonly TastePlace[],
): TastePlace | null {
  const last = entries.at(-1);
  if (last === undefined || next === undefined) return null;
  const entry = closingEntry(last, next, onsets.beats);
  const homeMask = places.at(-1)?.homeMask ?? 0;
  return { entry, strength: 1, beginsChord: false, guideMask: 0, homeMask };
}

function guideMasks(form: Form): readonly number[] {
  return form.bars.flatMap(({ chords }) => chords.map(({ symbol }) => guideMask(symbol)));
}

/** What ends every line at a place: the first rule without which a line would go on. */
function blockedAt(
  entries: readonly LineEntry[],
  rules: LegalRules,
  atEntry: number,
): BlockedProblem {
  const entry = entries[atEntry];
  const rule = blockingRule(entries.slice(0, atEntry + 1), rules, entry);
  return { code: 'blocked', rule, ...blockedPlace(entry) };
}

function blockingRule(
  entries: readonly LineEntry[],
  rules: LegalRules,
  entry: LineEntry | undefined,
): BlockingRule {
  const goesOn = (lifted: Partial<LegalRules>): boolean =>
    legalGraph(entries, { ...rules, ...lifted }).ok;
  if (!hasKey(entry, rules)) return 'register';
  const { startMidi, afterMidi } = rules;
  if (entries.length > 1) {
    const isFixed = startMidi !== null || afterMidi !== null;
    if (isFixed && goesOn({ startMidi: null, afterMidi: null })) return 'beginning';
  } else if (startMidi !== null) {
    if (!goesOn({ afterMidi: null })) return 'start';
    if (startMidi === afterMidi) return 'repeat';
  }
  if (goesOn({ twoWay: false })) return 'direction';
  if (goesOn({ repeats: 'allow' })) return 'repeat';
  return 'interval';
}

function hasKey(entry: LineEntry | undefined, { register }: LegalRules): boolean {
  const mask = entry?.palette?.mask ?? 0;
  if (mask === 0) return true;
  for (let midi = register.lowestMidi; midi <= register.highestMidi; midi++) {
    if (((mask >> (midi % 12)) & 1) === 1) return true;
  }
  return false;
}
