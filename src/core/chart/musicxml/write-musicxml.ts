/**
 * A chart as a MusicXML score: one part, a chord symbol for each chord, the form's signs, and the notes of its melody
 * where it has one. Source: MusicXML 4.0, `score-partwise`; elements stand in the order its content models give.
 */

import { bareBars, melodyMeasures } from '../../melody/melody-measures.ts';
import type { Melody } from '../../melody/model.ts';
import type { Measure } from '../../score/measures.ts';
import { beatElements, DIVISIONS } from '../../score/note-elements.ts';
import { formatFormMark } from '../form-marks.ts';
import { formatChart } from '../format-chart.ts';
import { beatsPerBar, isCompound, isSameMeter, quartersPerBeat } from '../meter.ts';
import type { Chart, Meter, WrittenBar, WrittenChord } from '../model.ts';
import { harmonyElement, keyElement, timeElement } from './elements.ts';
import { pickupElement } from './write-pickup.ts';
import { branch, leaf } from './xml-text.ts';

/** The field that carries what a score has no place for: palettes, plans, other headers. */
export const CHART_FIELD = 'linekeeper-chart';

/**
 * Writes a chart, with a melody that fits it or null. Palettes, further plans and headers that a score has no place for travel in a miscellaneous field, so
 * that the chart reads back as it was.
 */
export function writeMusicXml(chart: Chart, melody: Melody | null = null): string {
  const composer = chart.headers.find(({ name }) => name === 'composer')?.value ?? null;
  const score = branch(
    'score-partwise',
    [
      branch('work', [leaf('work-title', chart.title)]),
      branch('identification', [
        ...(composer === null ? [] : [leaf('creator', composer, { type: 'composer' })]),
        branch('encoding', [leaf('software', 'Linekeeper')]),
        branch('miscellaneous', [
          leaf('miscellaneous-field', formatChart(chart), { name: CHART_FIELD }),
        ]),
      ]),
      branch('part-list', [
        branch('score-part', [leaf('part-name', melody === null ? 'Chords' : 'Melody')], {
          id: 'P1',
        }),
      ]),
      branch('part', measures(chart, melody), { id: 'P1' }),
    ],
    { version: '4.0' },
  );
  return `<?xml version="1.0" encoding="UTF-8" standalone="no"?>\n${score}\n`;
}

function measures(chart: Chart, melody: Melody | null): readonly string[] {
  const bars = chart.sections.flatMap(({ name, bars: own }) =>
    own.map((bar, index) => ({ bar, section: index === 0 ? name : null })),
  );
  const laid =
    melody === null
      ? []
      : layMelody(
          bars.map(({ bar }) => bar),
          melody,
        );
  const hasLeadIn = melody !== null && melody.leadIn > 0;
  const notes = hasLeadIn ? laid.slice(1) : laid;
  const pickup = pickupElement(chart, melody, firstAttributes(chart));
  const isWritten = melody !== null;
  let sounding: readonly WrittenChord[] = [];
  const full = bars.map(({ bar, section }, index) => {
    const before = bars[index - 1]?.bar ?? null;
    const { content } = bar;
    if (content.kind === 'chords') sounding = content.chords;
    // A sign of repetition would stand for the notes too: under a melody the chords are written again.
    const chords = content.kind === 'chords' || isWritten ? sounding : [];
    return branch(
      'measure',
      [
        ...leftBarline(bar),
        ...attributes(chart, bar, before, pickup !== null, isWritten),
        ...(section === null ? [] : [direction(leaf('rehearsal', section))]),
        ...startMark(bar),
        ...(index === 0 && chart.tempoBpm !== null ? [tempo(chart.tempoBpm, chart.meter)] : []),
        ...chords.map((chord) => harmonyElement(chord.symbol, offsetOf(chord, bar))),
        ...notesOf(notes[index], bar.meter),
        ...endMark(bar),
        ...rightBarline(bar, bars[index + 1]?.bar ?? null),
      ],
      { number: index + 1 },
    );
  });
  return pickup === null ? full : [pickup, ...full];
}

function layMelody(bars: readonly WrittenBar[], melody: Melody): readonly Measure[] {
  const order = bars.map((_, index) => index);
  return melodyMeasures(bareBars(bars.map(({ meter }) => meter)), order, melody);
}

function perBeat(meter: Meter): number {
  return quartersPerBeat(meter) * DIVISIONS;
}

function notesOf(measure: Measure | undefined, meter: Meter): readonly string[] {
  const isSilent =
    measure?.beats.every(({ notes }) => notes.every(({ name }) => name === null)) ?? true;
  if (measure === undefined || isSilent) return [wholeRest(meter)];
  return measure.beats.flatMap((beat) => beatElements(beat, perBeat(meter)));
}

function firstAttributes(chart: Chart): readonly string[] {
  return [leaf('divisions', DIVISIONS), keyElement(chart.key)];
}

function attributes(
  chart: Chart,
  bar: WrittenBar,
  before: WrittenBar | null,
  hasPickup: boolean,
  isWritten: boolean,
): readonly string[] {
  const isFirst = before === null && !hasPickup;
  const isMeterNew = before === null ? !hasPickup : !isSameMeter(bar.meter, before.meter);
  const repeats = bar.content.kind === 'same' && !isWritten;
  const wereRepeats = before?.content.kind === 'same' && !isWritten;
  const parts = [
    ...(isFirst ? firstAttributes(chart) : []),
    ...(isMeterNew ? [timeElement(bar.meter)] : []),
    ...(repeats && !wereRepeats ? [measureRepeat('start')] : []),
    ...(!repeats && wereRepeats ? [measureRepeat('stop')] : []),
  ];
  return parts.length === 0 ? [] : [branch('attributes', parts)];
}

function measureRepeat(type: 'start' | 'stop'): string {
  return branch('measure-style', [leaf('measure-repeat', type === 'start' ? 1 : '', { type })]);
}

function direction(what: string, sound: readonly string[] = []): string {
  return branch('direction', [branch('direction-type', [what]), ...sound], { placement: 'above' });
}

/** Where one comes to: the sign, and what it is for whoever plays the file. */
function startMark({ startMark: mark }: WrittenBar): readonly string[] {
  if (mark === null) return [];
  return [direction(branch(mark, []), [branch('sound', [], { [mark]: mark })])];
}

/** Where one leaves, in words but for the coda, which has a sign. */
function endMark({ endMark: mark }: WrittenBar): readonly string[] {
  if (mark === null) return [];
  if (mark.kind === 'toCoda') {
    return [direction(branch('coda', []), [branch('sound', [], { tocoda: 'coda' })])];
  }
  const sound =
    mark.kind === 'fine'
      ? { fine: 'yes' }
      : mark.jump.to === 'start'
        ? { dacapo: 'yes' }
        : { dalsegno: 'segno' };
  return [direction(leaf('words', formatFormMark(mark)), [branch('sound', [], sound)])];
}

function tempo(tempoBpm: number, meter: Meter): string {
  const mark = branch('metronome', [
    leaf('beat-unit', BEAT_UNITS[quartersPerBeat(meter)]),
    ...(isCompound(meter) ? [branch('beat-unit-dot', [])] : []),
    leaf('per-minute', tempoBpm),
  ]);
  return direction(mark, [branch('sound', [], { tempo: tempoBpm * quartersPerBeat(meter) })]);
}

const BEAT_UNITS = { 0.5: 'eighth', 1: 'quarter', 1.5: 'quarter', 2: 'half' } as const;

function offsetOf({ beat }: WrittenChord, { meter }: WrittenBar): number {
  return Math.round((beat - 1) * quartersPerBeat(meter) * DIVISIONS);
}

function wholeRest(meter: Meter): string {
  const duration = beatsPerBar(meter) * quartersPerBeat(meter) * DIVISIONS;
  return branch('note', [
    branch('rest', [], { measure: 'yes' }),
    leaf('duration', duration),
    leaf('voice', 1),
  ]);
}

function leftBarline({ repeatStart, endings }: WrittenBar): readonly string[] {
  if (!repeatStart && endings.length === 0) return [];
  return [
    branch(
      'barline',
      [
        ...(repeatStart ? [leaf('bar-style', 'heavy-light')] : []),
        ...(endings.length === 0
          ? []
          : [branch('ending', [], { number: endings.join(', '), type: 'start' })]),
        ...(repeatStart ? [branch('repeat', [], { direction: 'forward' })] : []),
      ],
      { location: 'left' },
    ),
  ];
}

/** An ending is closed where the repeat sends back, and the last one with the bar it begins with. */
function rightBarline(
  { repeatEnd, endings, doubleAfter }: WrittenBar,
  next: WrittenBar | null,
): readonly string[] {
  const style = doubleAfter ? 'light-light' : repeatEnd || next === null ? 'light-heavy' : null;
  const closing =
    endings.length > 0 && !repeatEnd
      ? [branch('ending', [], { number: endings.join(', '), type: 'discontinue' })]
      : [];
  if (style === null && closing.length === 0) return [];
  return [
    branch(
      'barline',
      [
        ...(style === null ? [] : [leaf('bar-style', style)]),
        ...closing,
        ...(repeatEnd ? [branch('repeat', [], { direction: 'backward' })] : []),
      ],
      { location: 'right' },
    ),
  ];
}
