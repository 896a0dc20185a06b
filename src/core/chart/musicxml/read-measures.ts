/** The measures of a part as the bars of a chart: what stands in each, and what was not understood. */

import type { ChordSymbol } from '../../theory/index.ts';
import { type Jump, parseFormMark } from '../form-marks.ts';
import { parseMeter } from '../meter.ts';
import type { EndMark, Meter, StartMark } from '../model.ts';
import { readHarmony } from './harmony.ts';
import type { MusicXmlNotice, MusicXmlProblem } from './problem.ts';
import { child, childNumber, childrenOf, childText, type XmlElement } from './xml-tree.ts';

/** A chord at its place in quarters from the start of its measure; null is N.C. */
export interface ReadChord {
  readonly atQuarter: number;
  readonly symbol: ChordSymbol | null;
}

export interface ReadMeasure {
  readonly number: string;
  readonly meter: Meter;
  readonly chords: readonly ReadChord[];
  /** How far its notes and rests reach. */
  readonly quarters: number;
  /** Whether the measure is written as a repetition of the one before. */
  readonly isSame: boolean;
  readonly section: string | null;
  readonly repeatStart: boolean;
  readonly repeatEnd: boolean;
  readonly endings: readonly number[];
  readonly doubleAfter: boolean;
  readonly startMark: StartMark | null;
  readonly endMark: EndMark | null;
}

export interface ReadPart {
  readonly measures: readonly ReadMeasure[];
  readonly fifths: number;
  readonly mode: 'major' | 'minor';
  /** Quarters per minute, or null when the part names none. */
  readonly quartersPerMinute: number | null;
  /** The measure before the first full one, when the part begins with a pickup. */
  readonly pickup: ReadMeasure | null;
  readonly notices: readonly MusicXmlNotice[];
  readonly problem: MusicXmlProblem | null;
}

/** What holds from measure to measure while a part is read. */
interface State {
  divisions: number;
  meter: Meter | null;
  fifths: number | null;
  mode: 'major' | 'minor';
  tempo: number | null;
  isSame: boolean;
  problem: MusicXmlProblem | null;
  /** A repeat ends at the left bar line of the measure just read: with the measure before it. */
  endsBefore: boolean;
  /** A repeat starts at its right bar line: with the measure after it. */
  startsAfter: boolean;
  startsNext: boolean;
  /** A coda sign, the first of the part, stands at the beginning of the measure just read: it is left after the one before. */
  leavesBefore: boolean;
  hasCoda: boolean;
  readonly told: MusicXmlNotice[];
}

/** A measure whose signs may still be moved here from its neighbour. */
type OpenMeasure = Omit<ReadMeasure, keyof OpenBar> & OpenBar;

/** Reads a part; the first meter or key that a chart cannot be in ends it. */
export function readPart(part: XmlElement): ReadPart {
  const state: State = {
    divisions: 0,
    meter: null,
    fifths: null,
    mode: 'major',
    tempo: null,
    isSame: false,
    problem: null,
    endsBefore: false,
    startsAfter: false,
    startsNext: false,
    leavesBefore: false,
    hasCoda: false,
    told: [],
  };
  const measures: OpenMeasure[] = [];
  let pickup: ReadMeasure | null = null;
  for (const [index, element] of childrenOf(part, 'measure').entries()) {
    const isPickup = index === 0 && element.attributes['implicit'] === 'yes';
    const measure = readMeasure(element, state);
    if (state.problem !== null || measure === null) break;
    if (isPickup) pickup = measure;
    else {
      // A sign may stand on the other side of its bar line, in the measure beside.
      const before = measures.at(-1);
      if (state.endsBefore && before !== undefined) before.repeatEnd = true;
      if (state.leavesBefore && before !== undefined) before.endMark ??= { kind: 'toCoda' };
      if (state.startsNext) measure.repeatStart = true;
      measures.push(measure);
    }
    state.startsNext = state.startsAfter;
    const times = childNumber(element, 'attributes', 'measure-style', 'multiple-rest') ?? 1;
    if (times > 1)
      tell(state, measure.number, `a rest of ${times} measures stands as one sign; each is a bar`);
  }
  return {
    measures: withJumpEnds(measures),
    fifths: state.fifths ?? 0,
    mode: state.mode,
    quartersPerMinute: state.tempo,
    pickup,
    notices: state.told,
    problem: state.problem,
  };
}

function tell(state: State, measure: string | null, what: string): void {
  state.told.push({ measure, what });
}

function readMeasure(element: XmlElement, state: State): OpenMeasure | null {
  const number = element.attributes['number'] ?? '?';
  const chords: ReadChord[] = [];
  let section: string | null = null;
  let position = 0;
  let reach = 0;
  state.endsBefore = false;
  state.startsAfter = false;
  state.leavesBefore = false;
  const bar: OpenBar = {
    ...{ repeatStart: false, repeatEnd: false, endings: [], doubleAfter: false },
    ...{ startMark: null, endMark: null },
  };
  for (const part of element.children) {
    switch (part.name) {
      case 'attributes':
        readAttributes(part, number, state);
        break;
      case 'note':
        if (child(part, 'chord') === null && child(part, 'grace') === null) {
          position += childNumber(part, 'duration') ?? 0;
        }
        break;
      case 'backup':
        position = Math.max(0, position - (childNumber(part, 'duration') ?? 0));
        break;
      case 'forward':
        position += childNumber(part, 'duration') ?? 0;
        break;
      case 'harmony': {
        const at = (position + (childNumber(part, 'offset') ?? 0)) / divisionsOf(state, number);
        addHarmony(part, Math.max(0, at), number, chords, state);
        break;
      }
      case 'direction':
      case 'sound':
        section = readDirection(part, number, state) ?? section;
        readMarks(part, bar, position === 0, state);
        break;
      case 'barline':
        readBarline(part, number, bar, state);
        break;
      default:
        if (!SILENT.has(part.name)) tell(state, number, `<${part.name}> was left out`);
    }
    reach = Math.max(reach, position);
  }
  if (state.meter === null) {
    state.meter = { count: 4, unit: 4 };
    tell(state, number, 'no meter is written; 4/4 was taken');
  }
  const quarters = reach === 0 ? 0 : reach / divisionsOf(state, number);
  return { number, meter: state.meter, chords, quarters, isSame: state.isSame, section, ...bar };
}

/** Elements that say nothing a chart could hold: layout, figures for another hand. */
const SILENT: ReadonlySet<string> = new Set(['print', 'listening', 'bookmark', 'link']);

/** Divisions must stand before the first duration; where they do not, a quarter is one. */
function divisionsOf(state: State, number: string): number {
  if (state.divisions === 0) {
    state.divisions = 1;
    tell(state, number, 'the divisions of a quarter are missing; one was taken');
  }
  return state.divisions;
}

function readAttributes(element: XmlElement, number: string, state: State): void {
  const divisions = childNumber(element, 'divisions');
  if (divisions !== null && divisions > 0) state.divisions = divisions;
  const style = child(child(element, 'measure-style'), 'measure-repeat');
  if (style !== null) state.isSame = style.attributes['type'] === 'start';
  const key = child(element, 'key');
  if (key !== null) readKey(key, number, state);
  const time = child(element, 'time');
  if (time === null) return;
  const [beats, type] = [childText(time, 'beats') ?? '', childText(time, 'beat-type') ?? ''];
  const meter = parseMeter(`${beats.replace(/\s/gu, '')}/${type}`);
  if (meter === null) state.problem = { code: 'meter', measure: number, read: `${beats}/${type}` };
  else state.meter = meter;
}

const MOST_FIFTHS = 7;

function readKey(key: XmlElement, number: string, state: State): void {
  const fifths = childNumber(key, 'fifths');
  if (fifths === null || Math.abs(fifths) > MOST_FIFTHS || !Number.isInteger(fifths)) {
    state.problem = {
      code: 'key',
      measure: number,
      read: childText(key, 'fifths') ?? 'without fifths',
    };
    return;
  }
  const mode = childText(key, 'mode') === 'minor' ? 'minor' : 'major';
  if (state.fifths === null) {
    state.fifths = fifths;
    state.mode = mode;
  } else if (fifths !== state.fifths) {
    tell(state, number, 'the key changes here; a chart has one key');
  }
}

function addHarmony(
  element: XmlElement,
  atQuarter: number,
  number: string,
  chords: ReadChord[],
  state: State,
): void {
  const read = readHarmony(element);
  if (read.kind === 'unknown') {
    tell(state, number, `${read.read} was not understood; the chord before it goes on`);
    return;
  }
  if (read.kind === 'chord' && read.remark !== null) tell(state, number, read.remark);
  chords.push({ atQuarter, symbol: read.kind === 'none' ? null : read.symbol });
}

/** The section a rehearsal mark names, or null; tempo and jumps are taken note of. */
function readDirection(element: XmlElement, number: string, state: State): string | null {
  const sound = element.name === 'sound' ? element : child(element, 'sound');
  const tempo = Number(sound?.attributes['tempo'] ?? Number.NaN);
  if (state.tempo === null && Number.isFinite(tempo) && tempo > 0) state.tempo = tempo;
  for (const type of childrenOf(element, 'direction-type')) {
    const rehearsal = childText(type, 'rehearsal');
    if (rehearsal !== null && rehearsal !== '') return rehearsal;
    if (state.tempo === null) state.tempo = readMetronome(child(type, 'metronome'));
    const words = childText(type, 'words');
    if (words !== null && words !== '' && parseFormMark(words) === null)
      tell(state, number, `the words “${words.slice(0, 80)}” were left out`);
  }
  return null;
}

/**
 * The marks of the form in a direction: what its sound says, else its signs and words. Of coda signs alone the first is where one
 * leaves. Source: MusicXML 4.0, `sound`, `segno`, `coda`.
 */
function readMarks(element: XmlElement, bar: OpenBar, isAtStart: boolean, state: State): void {
  const sound = element.name === 'sound' ? element : child(element, 'sound');
  const says = (name: string): boolean => sound?.attributes[name] !== undefined;
  const types = childrenOf(element, 'direction-type');
  const shows = (name: string): boolean => types.some((type) => child(type, name) !== null);
  const words = types.flatMap((type) => parseFormMark(childText(type, 'words') ?? '') ?? []);
  const jump = words.flatMap((mark) => (mark.kind === 'jump' ? [mark.jump] : []))[0];
  const isWord = (kind: string): boolean => words.some((mark) => mark.kind === kind);
  if (says('segno') || shows('segno') || isWord('segno')) bar.startMark = 'segno';
  if (says('dacapo') || says('dalsegno') || jump !== undefined) {
    const to = says('dalsegno') ? 'segno' : 'start';
    bar.endMark = { kind: 'jump', jump: jump ?? { to, until: 'end' } };
  } else if (says('fine') || isWord('fine')) bar.endMark = { kind: 'fine' };
  const isSign = shows('coda') || isWord('coda');
  if (says('coda') || (isSign && !says('tocoda') && state.hasCoda)) bar.startMark = 'coda';
  else if (says('tocoda') || isSign) {
    if (isAtStart && !says('tocoda')) state.leavesBefore = true;
    else bar.endMark ??= { kind: 'toCoda' };
  }
  state.hasCoda ||= says('tocoda') || isSign;
}

/** A jump that does not say until where goes to the end the part has: its coda, its fine. */
function withJumpEnds(measures: readonly OpenMeasure[]): readonly ReadMeasure[] {
  const hasCoda = measures.some(({ startMark }) => startMark === 'coda');
  const hasFine = measures.some(({ endMark }) => endMark?.kind === 'fine');
  const until: Jump['until'] = hasCoda ? 'coda' : hasFine ? 'fine' : 'end';
  return measures.map((measure) =>
    measure.endMark?.kind === 'jump' && measure.endMark.jump.until === 'end'
      ? { ...measure, endMark: { kind: 'jump', jump: { ...measure.endMark.jump, until } } }
      : measure,
  );
}

const QUARTERS: Readonly<Record<string, number>> = { half: 2, quarter: 1, eighth: 0.5 };

function readMetronome(metronome: XmlElement | null): number | null {
  const perMinute = childNumber(metronome, 'per-minute');
  const unit = QUARTERS[childText(metronome, 'beat-unit') ?? ''];
  if (perMinute === null || unit === undefined) return null;
  return perMinute * unit * (child(metronome, 'beat-unit-dot') === null ? 1 : 1.5);
}

interface OpenBar {
  repeatStart: boolean;
  repeatEnd: boolean;
  endings: readonly number[];
  doubleAfter: boolean;
  startMark: StartMark | null;
  endMark: EndMark | null;
}

function readBarline(element: XmlElement, number: string, bar: OpenBar, state: State): void {
  const repeat = child(element, 'repeat');
  const location = element.attributes['location'];
  if (repeat?.attributes['direction'] === 'forward') {
    if (location === 'left') bar.repeatStart = true;
    else state.startsAfter = true;
  }
  if (repeat?.attributes['direction'] === 'backward') {
    if (location === 'left') state.endsBefore = true;
    else bar.repeatEnd = true;
    const times = Number(repeat.attributes['times'] ?? 2);
    if (times > 2)
      tell(state, number, `the repeat is played ${times} times; a chart plays it twice`);
  }
  const ending = child(element, 'ending');
  if (ending?.attributes['type'] === 'start') {
    const numbers = (ending.attributes['number'] ?? '').split(/[\s,]+/u).map(Number);
    bar.endings = numbers.filter((time) => Number.isInteger(time) && time > 0 && time < 10);
  }
  const style = childText(element, 'bar-style');
  if (style === 'light-light' && element.attributes['location'] !== 'left') bar.doubleAfter = true;
}
