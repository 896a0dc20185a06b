/** A MusicXML file as a chart. Source: MusicXML 4.0. What a chart cannot hold is told, never dropped in silence. */

import type { Melody } from '../../melody/model.ts';
import { failure, type Outcome, success } from '../../problem.ts';
import type { Key } from '../../theory/index.ts';
import { formatChart } from '../format-chart.ts';
import { TEMPO_RANGE_BPM } from '../headers.ts';
import { quartersPerBeat } from '../meter.ts';
import type { Chart, Section, WrittenBar, WrittenChord } from '../model.ts';
import { MAX_CHART_BARS, parseChart } from '../parse-chart.ts';
import { firstMeter } from '../pickup.ts';
import { byParts } from './by-parts.ts';
import { onBeats } from './on-beats.ts';
import type { MusicXmlNotice, MusicXmlProblem } from './problem.ts';
import { type ReadMeasure, type ReadPart, readPart } from './read-measures.ts';
import { readMelody } from './read-melody.ts';
import { readNotes } from './read-notes.ts';
import { isSamePickup, readPickupMeasure } from './read-pickup.ts';
import { unpackScore } from './unpack.ts';
import { CHART_FIELD } from './write-musicxml.ts';
import { child, childrenOf, childText, readXml, type XmlElement } from './xml-tree.ts';

export interface ReadScore {
  readonly chart: Chart;
  /** The notes of the first part that has some, over the written bars of the chart; null in a score without notes. */
  readonly melody: Melody | null;
  /** What of the file the chart does not hold, in the order of the measures. */
  readonly notices: readonly MusicXmlNotice[];
}

/**
 * Reads the bytes of a `.musicxml`, `.xml` or `.mxl` file. The chords come from the first part that has some. A file this
 * program wrote gives its chart back with plans and palettes, unless its chords were changed elsewhere since.
 */
export function readMusicXml(bytes: Uint8Array): Outcome<ReadScore, MusicXmlProblem> {
  const text = unpackScore(bytes);
  const document = text.ok ? readXml(text.value) : text;
  if (!document.ok) return document;
  const partwise = byParts(document.value);
  if (!partwise.ok) return partwise;
  const score = partwise.value;
  if (score.name !== 'score-partwise') return failure({ code: 'otherDocument', root: score.name });
  const parts = childrenOf(score, 'part');
  const read = parts.map(readPart);
  const part = read.find((one) => one.problem !== null || hasChords(one));
  if (part === undefined) return failure({ code: 'noHarmony', parts: parts.length });
  if (part.problem !== null) return failure(part.problem);
  if (part.measures.length > MAX_CHART_BARS) {
    return failure({ code: 'tooLong', measures: part.measures.length });
  }
  const notices: MusicXmlNotice[] = [...part.notices];
  if (parts.length > 1) {
    const what = `the chords are those of part ${read.indexOf(part) + 1} of ${parts.length}`;
    notices.unshift({ measure: null, what });
  }
  const lost: MusicXmlNotice[] = [];
  const built = soundChart(buildChart(score, part, lost), lost);
  const own = ownChart(score);
  const isOwn =
    own !== null &&
    isSameScore(own, built) &&
    isSamePickup(own.pickup, built.pickup, firstMeter(own));
  if (!isOwn) for (const notice of lost) notices.push(notice);
  if (own !== null && !isOwn) notices.push({ measure: null, what: CHANGED_SINCE });
  const chart = isOwn ? { ...own, pickup: own.pickup ?? built.pickup } : built;
  return success({ chart, melody: melodyOf(chart, parts, read, notices), notices });
}

/** The melody of the first part with notes; those of other parts are told of. */
function melodyOf(
  chart: Chart,
  parts: readonly XmlElement[],
  read: readonly ReadPart[],
  notices: MusicXmlNotice[],
): Melody | null {
  const notes = parts.map(readNotes);
  const first = notes.findIndex(({ written }) => written > 0);
  const own = notes[first];
  if (own === undefined) return null;
  const melody = readMelody(chart, own, read[first]?.pickup !== null, notices);
  const others = notes.slice(first + 1).reduce((sum, { written }) => sum + written, 0);
  if (others > 0) {
    const what = `the melody is that of part ${first + 1}; notes of other parts, ${others} of them, were left out`;
    notices.push({ measure: null, what });
  }
  return melody;
}

const CHANGED_SINCE =
  'the chords were changed since this program wrote the file; its plans and palettes were left out';

function hasChords({ measures }: ReadPart): boolean {
  return measures.some(({ chords }) => chords.length > 0);
}

function buildChart(score: XmlElement, part: ReadPart, notices: MusicXmlNotice[]): Chart {
  const [first] = part.measures;
  const meter = first?.meter ?? { count: 4, unit: 4 };
  const key: Key = {
    tonic: part.mode === 'minor' ? part.fifths + 3 : part.fifths,
    mode: part.mode,
  };
  const tempoBpm = tempoOf(part, meter, notices);
  const pickup = part.pickup === null ? null : readPickupMeasure(part.pickup, meter, notices);
  return {
    title: titleOf(score),
    key,
    keyGiven: true,
    meter,
    meterGiven: true,
    tempoBpm,
    pickup,
    headers: composerOf(score).map((value) => ({ name: 'composer', value })),
    sections: sectionsOf(
      part.measures,
      barsOf(part.measures, pickup?.chords.at(-1)?.symbol ?? null, notices),
    ),
    plans: [],
  };
}

function tempoOf(
  { quartersPerMinute }: ReadPart,
  meter: Chart['meter'],
  notices: MusicXmlNotice[],
): number | null {
  if (quartersPerMinute === null) return null;
  const tempoBpm = Math.round((quartersPerMinute / quartersPerBeat(meter)) * 100) / 100;
  if (tempoBpm >= TEMPO_RANGE_BPM.lowest && tempoBpm <= TEMPO_RANGE_BPM.highest) return tempoBpm;
  notices.push({ measure: null, what: `the tempo ${tempoBpm} was left out: no metronome has it` });
  return null;
}

function titleOf(score: XmlElement): string {
  const title = childText(score, 'work', 'work-title') || childText(score, 'movement-title');
  return title?.replace(/\s+/gu, ' ').trim() || 'Untitled';
}

function composerOf(score: XmlElement): readonly string[] {
  return childrenOf(child(score, 'identification'), 'creator')
    .filter(({ attributes, text }) => attributes['type'] === 'composer' && text !== '')
    .slice(0, 1)
    .map(({ text }) => text);
}

function barsOf(
  measures: readonly ReadMeasure[],
  before: WrittenChord['symbol'],
  notices: MusicXmlNotice[],
): readonly WrittenBar[] {
  let sounding = before;
  return measures.map((measure): WrittenBar => {
    const { meter, repeatStart, repeatEnd, endings, doubleAfter, startMark, endMark } = measure;
    const rest = { meter, repeatStart, repeatEnd, endings, doubleAfter, startMark, endMark };
    if (measure.isSame && measure.chords.length === 0)
      return { content: { kind: 'same' }, ...rest };
    const chords = onBeats(measure, sounding, notices);
    sounding = chords.at(-1)?.symbol ?? null;
    return { content: { kind: 'chords', chords }, ...rest };
  });
}

function sectionsOf(
  measures: readonly ReadMeasure[],
  bars: readonly WrittenBar[],
): readonly Section[] {
  const sections: { name: string | null; bars: WrittenBar[] }[] = [];
  bars.forEach((bar, index) => {
    const name = measures[index]?.section ?? null;
    const last = sections.at(-1);
    if (last === undefined || name !== null) sections.push({ name, bars: [bar] });
    else last.bars.push(bar);
  });
  return sections;
}

/** The chart as its text reads back; signs of repetition that do not fit together are taken out, and told of. */
function soundChart(chart: Chart, notices: MusicXmlNotice[]): Chart {
  const read = parseChart(formatChart(chart));
  if (read.ok) return read.value;
  notices.push({
    measure: null,
    what: 'its repeats, endings and jumps do not fit together and were left out; look at the form',
  });
  const plain = parseChart(formatChart(withoutSigns(chart)));
  return plain.ok ? plain.value : withoutSigns(chart);
}

function withoutSigns(chart: Chart): Chart {
  let before: WrittenBar['content'] | null = null;
  return {
    ...chart,
    sections: chart.sections.map((section) => ({
      ...section,
      bars: section.bars.map((bar) => {
        const content: WrittenBar['content'] =
          bar.content.kind === 'same' && before !== null ? before : bar.content;
        before = content;
        return { ...bar, content, ...NO_SIGNS };
      }),
    })),
  };
}

const NO_SIGNS = {
  ...{ repeatStart: false, repeatEnd: false, endings: [], startMark: null, endMark: null },
} as const;

/** The chart this program wrote into its own file, or null. */
function ownChart(score: XmlElement): Chart | null {
  const fields = childrenOf(
    child(child(score, 'identification'), 'miscellaneous'),
    'miscellaneous-field',
  );
  const own = fields.find(({ attributes }) => attributes['name'] === CHART_FIELD);
  const chart = own === undefined ? null : parseChart(own.text);
  return chart?.ok === true ? chart.value : null;
}

/** Whether a score still says what the chart says; a tempo no chart can have counts as the same. */
function isSameScore(own: Chart, read: Chart): boolean {
  const tempos = [own, read].map(quartersOf);
  const [one = null, other = null] = tempos;
  const isSameTempo = one === null || other === null || Math.abs(one - other) < 1;
  return isSameTempo && asScored(own) === asScored(read);
}

function quartersOf({ tempoBpm, meter }: Chart): number | null {
  return tempoBpm === null ? null : tempoBpm * quartersPerBeat(meter);
}

/** A chart as far as a score holds it, but for its tempo and pickup: title, key, bars with their signs; no palettes, plans, headers. */
function asScored(chart: Chart): string {
  const first = chart.sections[0]?.bars[0]?.meter ?? chart.meter;
  let before: WrittenBar['content'] = { kind: 'chords', chords: [] };
  // Under a melody a repeated bar is written out.
  const content = (written: WrittenBar['content']): WrittenBar['content'] => {
    if (written.kind === 'chords') before = withoutPalettes(written);
    return before;
  };
  return formatChart({
    ...chart,
    ...{ keyGiven: true, meterGiven: true },
    meter: first,
    tempoBpm: null,
    pickup: null,
    headers: [],
    plans: [],
    sections: chart.sections.map((section) => ({
      ...section,
      bars: section.bars.map((bar) => ({ ...bar, content: content(bar.content) })),
    })),
  });
}

function withoutPalettes(content: WrittenBar['content']): WrittenBar['content'] {
  if (content.kind === 'same') return content;
  return { ...content, chords: content.chords.map((chord) => ({ ...chord, given: null })) };
}
