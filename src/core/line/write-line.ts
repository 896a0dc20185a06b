/**
 * An example line over a form: clean by the grader at its level, every change shown as early as any clean line can, and
 * among those lines the one of least cost. Exact at each of the three; the same wish gives the same line.
 */

import type { Form } from '../chart/index.ts';
import { layCourse } from '../grading/course.ts';
import { createBeatClock, createSlotGrid } from '../grid/index.ts';
import { failure, type Outcome, success } from '../problem.ts';
import { bestGraph } from './legal/best-graph.ts';
import { type LineEntry, layEntries } from './legal/entries.ts';
import { legalGraph } from './legal/graph.ts';
import { type LegalRules, rulesOf } from './legal/rules.ts';
import { LAYOUT_TEMPO, rhythmOnsets, slotOnsets } from './onsets.ts';
import type { BlockedProblem, BlockingRule, LineProblem } from './problems.ts';
import { freeRhythm } from './rhythm.ts';
import { bestLine } from './search.ts';
import { guideMask } from './taste/guide-tones.ts';
import { chanceAt, STREAM } from './taste/noise.ts';
import { tastePlaces } from './taste/place-costs.ts';
import { checkWish, type LineWish, MAX_LINE_NOTES, settingsOfWish } from './wish.ts';
import type { WrittenLine } from './written-line.ts';

/** Velocity of a note off the beat, what a beat adds, and how far chance goes either way. Common practice, no source. */
const VELOCITY = 72;
const BEAT_ACCENT = 8;
const VELOCITY_SPREAD = 8;

/**
 * Writes a line over the bars of a form (cut it with `sliceForm` for a range). One note for every slot of the level's
 * grid; at `free` a rhythm of its own, with rests and off-beats. Problems: what of the wish cannot be met, no bars, too many notes, or the place where every clean line ends,
 * with the rule that ends it.
 */
export function writeLine(form: Form, wish: LineWish): Outcome<WrittenLine, LineProblem> {
  const wrong = checkWish(wish);
  if (wrong.length > 0) return failure(...wrong);
  if (form.bars.length === 0) return failure({ code: 'noBars' });
  const course = layCourse(form);
  const settings = settingsOfWish(wish, LAYOUT_TEMPO);
  const { slotsPerChorus } = createSlotGrid(form, createBeatClock(form, LAYOUT_TEMPO), settings);
  const rhythm = wish.level === 'free' ? freeRhythm(form, wish.choruses, wish.seed) : null;
  const notes =
    rhythm === null
      ? slotsPerChorus * wish.choruses
      : rhythm.flat().filter(({ isRest }) => !isRest).length;
  if (notes > MAX_LINE_NOTES) return failure({ code: 'tooLong', notes, most: MAX_LINE_NOTES });

  const onsets =
    rhythm === null
      ? slotOnsets(course, settings, notes, course.beats * wish.choruses)
      : rhythmOnsets(course, settings, rhythm);
  const entries = layEntries(course, onsets.places, notes, settings.anticipation === 'allow');
  const rules = rulesOf(wish, settings);
  const best = bestGraph(entries, rules);
  if (!best.ok) return failure(blockedAt(entries, rules, best.atEntry));
  const places = tastePlaces(entries, guideMasks(form));
  const midis = bestLine(best.graph, places, wish);
  return success({
    level: wish.level,
    slotsPerBeat: wish.slotsPerBeat,
    swing: wish.swing,
    choruses: wish.choruses,
    beats: onsets.beats,
    rhythm,
    notes: midis.map((midi, slot) => ({
      slot,
      midi,
      name: entries[slot]?.chord.spell(midi) ?? '',
      onsetBeats: onsets.onsetBeats[slot] ?? 0,
      durationBeats: onsets.durationBeats[slot] ?? 0,
      velocity: velocityAt(entries[slot], wish.seed, slot),
    })),
  });
}

function guideMasks(form: Form): readonly number[] {
  return form.bars.flatMap(({ chords }) => chords.map(({ symbol }) => guideMask(symbol)));
}

function velocityAt(entry: LineEntry | undefined, seed: number, slot: number): number {
  const accent = entry?.place.sub === 0 ? BEAT_ACCENT : 0;
  const chance = (chanceAt(seed, STREAM.velocity, slot) - 0.5) * 2 * VELOCITY_SPREAD;
  return Math.round(VELOCITY + accent + chance);
}

/** What ends every line at a place: the first rule without which a line would go on. */
function blockedAt(
  entries: readonly LineEntry[],
  rules: LegalRules,
  atEntry: number,
): BlockedProblem {
  const entry = entries[atEntry];
  const { chorus = 1, bar = 1, beat = 1, sub = 0 } = entry?.place ?? {};
  return {
    code: 'blocked',
    rule: blockingRule(entries.slice(0, atEntry + 1), rules, entry),
    chorus,
    bar,
    beat,
    sub,
    chord: entry?.chord.symbolText ?? '',
    palette: entry?.chord.paletteText ?? '',
  };
}

function blockingRule(
  entries: readonly LineEntry[],
  rules: LegalRules,
  entry: LineEntry | undefined,
): BlockingRule {
  const goesOn = (lifted: Partial<LegalRules>): boolean =>
    legalGraph(entries, { ...rules, ...lifted }).ok;
  if (!hasKey(entry, rules)) return 'register';
  if (rules.startMidi !== null && goesOn({ startMidi: null })) return 'start';
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
