/**
 * A chart as a MusicXML score: one part, a chord symbol for each chord, the form's signs, and no notes. Source: MusicXML
 * 4.0, `score-partwise`; elements stand in the order its content models give.
 */

import { keyFifths } from '../../theory/index.ts';
import { formatChart } from '../format-chart.ts';
import { beatsPerBar, isCompound, isSameMeter, quartersPerBeat } from '../meter.ts';
import type { Chart, Meter, WrittenBar, WrittenChord } from '../model.ts';
import { kindOf, stepAndAlter } from './harmony.ts';
import { branch, leaf } from './xml-text.ts';

/** Divisions of a quarter note: every beat of every meter, dotted ones too, is a whole number of them. */
const DIVISIONS = 2;

/** The field that carries what a score has no place for: palettes, plans, other headers. */
export const CHART_FIELD = 'linekeeper-chart';

/**
 * Writes a chart. Palettes, further plans and headers that a score has no place for travel in a miscellaneous field, so
 * that the chart reads back as it was.
 */
export function writeMusicXml(chart: Chart): string {
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
      branch('part-list', [branch('score-part', [leaf('part-name', 'Chords')], { id: 'P1' })]),
      branch('part', measures(chart), { id: 'P1' }),
    ],
    { version: '4.0' },
  );
  return `<?xml version="1.0" encoding="UTF-8" standalone="no"?>\n${score}\n`;
}

function measures(chart: Chart): readonly string[] {
  const bars = chart.sections.flatMap(({ name, bars: own }) =>
    own.map((bar, index) => ({ bar, section: index === 0 ? name : null })),
  );
  return bars.map(({ bar, section }, index) => {
    const before = bars[index - 1]?.bar ?? null;
    return branch(
      'measure',
      [
        ...leftBarline(bar),
        ...attributes(chart, bar, before),
        ...(section === null ? [] : [direction(leaf('rehearsal', section))]),
        ...(index === 0 && chart.tempoBpm !== null ? [tempo(chart.tempoBpm, chart.meter)] : []),
        ...(bar.content.kind === 'same'
          ? []
          : bar.content.chords.map((chord) => harmony(chord, bar))),
        wholeRest(bar.meter),
        ...rightBarline(bar, bars[index + 1]?.bar ?? null),
      ],
      { number: index + 1 },
    );
  });
}

function attributes(chart: Chart, bar: WrittenBar, before: WrittenBar | null): readonly string[] {
  const isFirst = before === null;
  const repeats = bar.content.kind === 'same';
  const wereRepeats = before?.content.kind === 'same';
  const parts = [
    ...(isFirst ? [leaf('divisions', DIVISIONS), key(chart)] : []),
    ...(isFirst || !isSameMeter(bar.meter, before.meter) ? [time(bar.meter)] : []),
    ...(repeats && !wereRepeats ? [measureRepeat('start')] : []),
    ...(!repeats && wereRepeats ? [measureRepeat('stop')] : []),
  ];
  return parts.length === 0 ? [] : [branch('attributes', parts)];
}

function key(chart: Chart): string {
  return branch('key', [leaf('fifths', keyFifths(chart.key)), leaf('mode', chart.key.mode)]);
}

function time({ count, unit }: Meter): string {
  return branch('time', [leaf('beats', count), leaf('beat-type', unit)]);
}

function measureRepeat(type: 'start' | 'stop'): string {
  return branch('measure-style', [leaf('measure-repeat', type === 'start' ? 1 : '', { type })]);
}

function direction(what: string, sound: readonly string[] = []): string {
  return branch('direction', [branch('direction-type', [what]), ...sound], { placement: 'above' });
}

function tempo(tempoBpm: number, meter: Meter): string {
  const mark = branch('metronome', [
    leaf('beat-unit', 'quarter'),
    ...(isCompound(meter) ? [branch('beat-unit-dot', [])] : []),
    leaf('per-minute', tempoBpm),
  ]);
  return direction(mark, [branch('sound', [], { tempo: tempoBpm * quartersPerBeat(meter) })]);
}

function harmony({ beat, symbol }: WrittenChord, { meter }: WrittenBar): string {
  const offset = Math.round((beat - 1) * quartersPerBeat(meter) * DIVISIONS);
  const at = offset === 0 ? [] : [leaf('offset', offset)];
  if (symbol === null) {
    const root = branch('root', [leaf('root-step', 'C', { text: '' })]);
    return branch('harmony', [root, leaf('kind', 'none', { text: 'N.C.' }), ...at]);
  }
  const { kind, changes } = kindOf(symbol);
  const root = stepAndAlter(symbol.root);
  const bass = symbol.bass === null ? null : stepAndAlter(symbol.bass);
  return branch('harmony', [
    branch('root', [
      leaf('root-step', root.step),
      ...(root.alter === 0 ? [] : [leaf('root-alter', root.alter)]),
    ]),
    leaf('kind', kind.value, { text: qualityText(symbol.text) }),
    ...(bass === null
      ? []
      : [
          branch('bass', [
            leaf('bass-step', bass.step),
            ...(bass.alter === 0 ? [] : [leaf('bass-alter', bass.alter)]),
          ]),
        ]),
    ...changes.map(({ type, degree, alter }) =>
      branch('degree', [
        leaf('degree-value', degree),
        leaf('degree-alter', alter),
        leaf('degree-type', type),
      ]),
    ),
    ...at,
  ]);
}

/** What stands between root and bass, as its writer spelled it. */
function qualityText(text: string): string {
  return text.replace(/^[A-G][b#♭♯]?/u, '').replace(/\/[A-G][b#♭♯]?$/u, '');
}

function wholeRest(meter: Meter): string {
  const duration = beatsPerBar(meter) * quartersPerBeat(meter) * DIVISIONS;
  return branch('note', [
    branch('rest', [], { measure: 'yes' }),
    leaf('duration', duration),
    leaf('voice', 1),
  ]);
}

function leftBarline({ repeatStart, ending }: WrittenBar): readonly string[] {
  if (!repeatStart && ending === null) return [];
  return [
    branch(
      'barline',
      [
        ...(repeatStart ? [leaf('bar-style', 'heavy-light')] : []),
        ...(ending === null ? [] : [branch('ending', [], { number: ending, type: 'start' })]),
        ...(repeatStart ? [branch('repeat', [], { direction: 'forward' })] : []),
      ],
      { location: 'left' },
    ),
  ];
}

/** An ending is closed where the repeat sends back, and the last one with the bar it begins with. */
function rightBarline(
  { repeatEnd, ending, doubleAfter }: WrittenBar,
  next: WrittenBar | null,
): readonly string[] {
  const style = doubleAfter ? 'light-light' : repeatEnd || next === null ? 'light-heavy' : null;
  const closing =
    ending !== null && !repeatEnd
      ? [branch('ending', [], { number: ending, type: 'discontinue' })]
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
