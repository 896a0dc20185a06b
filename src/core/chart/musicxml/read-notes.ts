/** The notes of a part as they are written, measure by measure, and what of them no melody holds. Source: MusicXML 4.0, `note`. */

import { formatTone, makeTone, parseNoteName, STEP_LETTERS } from '../../theory/index.ts';
import { type Tally, tallyOf } from './tally.ts';
import { child, childNumber, childrenOf, childText, type XmlElement } from './xml-tree.ts';

/** A note of the melody's voice, in quarters from the start of its measure. */
export interface ReadNote {
  readonly atQuarter: number;
  readonly quarters: number;
  readonly name: string;
  readonly midi: number;
  /** Whether a tie leads to it, and whether one leads on from it. */
  readonly tiedFrom: boolean;
  readonly tiedTo: boolean;
}

export interface NotesOfMeasure {
  readonly number: string;
  /** How far its notes and rests reach. */
  readonly quarters: number;
  readonly notes: readonly ReadNote[];
}

export interface ReadNotes {
  readonly measures: readonly NotesOfMeasure[];
  /** Sounding notes of any voice, those that are left out too. */
  readonly written: number;
  readonly leftOut: Tally;
}

const FIRST_VOICE = '1';

/** No measure is longer, in quarters; a file that says so is hostile. Own rule. */
const FURTHEST = 10_000;

/** What stands beside a note and is told by signs alone. */
const HELD_NOTATIONS: ReadonlySet<string> = new Set(['tied', 'tuplet']);

/** Reads voice 1, or where it has no note the first voice that has one; of notes struck together the highest. */
export function readNotes(part: XmlElement): ReadNotes {
  const leftOut = tallyOf();
  const voice = voiceOf(part);
  let divisions = 1;
  let written = 0;
  const measures = childrenOf(part, 'measure').map((element): NotesOfMeasure => {
    const number = element.attributes['number'] ?? '?';
    const notes: ReadNote[] = [];
    let [position, furthest, struckAt] = [0, 0, 0];
    for (const one of element.children) {
      const given = Math.max(0, childNumber(one, 'duration') ?? 0) / divisions;
      const duration = Math.min(FURTHEST, given);
      if (one.name === 'attributes') {
        const perQuarter = childNumber(one, 'divisions');
        if (perQuarter !== null && perQuarter > 0) divisions = perQuarter;
        if (child(one, 'transpose') !== null) leftOut.add('transposing', number);
      } else if (one.name === 'backup') position = Math.max(0, position - duration);
      else if (one.name === 'forward') position = Math.min(FURTHEST, position + duration);
      else if (one.name === 'note') {
        const isGrace = child(one, 'grace') !== null;
        const isStruckTogether = child(one, 'chord') !== null;
        if (!isStruckTogether) struckAt = position;
        if (!isStruckTogether && !isGrace) position = Math.min(FURTHEST, position + duration);
        if (child(one, 'rest') === null) {
          written++;
          const note = readNote(one, struckAt, duration);
          const why = isGrace ? 'grace' : whyLeftOut(one, note, voice);
          if (why !== null || note === null) leftOut.add(why ?? 'unpitched', number);
          else {
            tellSigns(one, number, leftOut);
            notes.push(note);
          }
        }
      }
      furthest = Math.max(furthest, position);
    }
    return { number, quarters: furthest, notes: highest(notes, number, leftOut) };
  });
  return { measures, written, leftOut };
}

function voiceOf(part: XmlElement): string {
  let first: string | null = null;
  for (const measure of childrenOf(part, 'measure')) {
    for (const note of childrenOf(measure, 'note')) {
      if (child(note, 'pitch') === null || child(note, 'grace') !== null) continue;
      const voice = childText(note, 'voice') ?? FIRST_VOICE;
      if (voice === FIRST_VOICE) return voice;
      first ??= voice;
    }
  }
  return first ?? FIRST_VOICE;
}

function whyLeftOut(element: XmlElement, note: ReadNote | null, voice: string) {
  if ((childText(element, 'voice') ?? FIRST_VOICE) !== voice) return 'voice' as const;
  if (child(element, 'cue') !== null) return 'cue' as const;
  if (note === null) return 'unpitched' as const;
  return note.quarters === 0 ? ('short' as const) : null;
}

/** The note, or null for one without a pitch that keys have. */
function readNote(element: XmlElement, atQuarter: number, quarters: number): ReadNote | null {
  const pitch = child(element, 'pitch');
  const letter = STEP_LETTERS.find((one) => one === childText(pitch, 'step'));
  const octave = childNumber(pitch, 'octave');
  const alter = childNumber(pitch, 'alter') ?? 0;
  if (letter === undefined || octave === null || Math.abs(alter) > 2) return null;
  const name = `${formatTone(makeTone(letter, Math.round(alter)))}${octave}`;
  const midi = parseNoteName(name);
  if (midi === null) return null;
  const ties = [
    ...childrenOf(element, 'tie'),
    ...childrenOf(element, 'notations').flatMap((notations) => childrenOf(notations, 'tied')),
  ].map(({ attributes }) => attributes['type']);
  const [tiedFrom, tiedTo] = [ties.includes('stop'), ties.includes('start')];
  return { atQuarter, quarters, name, midi, tiedFrom, tiedTo };
}

function tellSigns(element: XmlElement, number: string, leftOut: Tally): void {
  if (child(element, 'lyric') !== null) leftOut.add('lyric', number);
  if (!Number.isInteger(childNumber(element, 'pitch', 'alter') ?? 0)) leftOut.add('bent', number);
  const signs = childrenOf(element, 'notations').flatMap(({ children }) => children);
  if (signs.some(({ name }) => !HELD_NOTATIONS.has(name))) leftOut.add('sign', number);
}

/** In order of time; of notes struck together the highest. */
function highest(notes: ReadNote[], number: string, leftOut: Tally): readonly ReadNote[] {
  notes.sort((one, other) => one.atQuarter - other.atQuarter || other.midi - one.midi);
  return notes.filter(({ atQuarter }, index) => {
    const isBelow = notes[index - 1]?.atQuarter === atQuarter;
    if (isBelow) leftOut.add('lower', number);
    return !isBelow;
  });
}
