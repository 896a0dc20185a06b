/** Notes over chords as a MusicXML score, the form unrolled. Source: MusicXML 4.0. */

import { type Form, PICKUP_BAR, quartersPerBeat } from '../chart/index.ts';
import { harmonyElement, keyElement, timeElement } from '../chart/musicxml/elements.ts';
import { branch, leaf } from '../chart/musicxml/xml-text.ts';
import type { Measure } from './measures.ts';
import { beatElements, DIVISIONS } from './note-elements.ts';
import { FILLING } from './pickup-measure.ts';

/** Writes measures over the form they come from, under a title, at a tempo in beats per minute. */
export function writeScoreMusicXml(
  form: Form,
  measures: readonly Measure[],
  title: string,
  tempoBpm: number,
): string {
  const firstNumber = measures[0]?.bar === PICKUP_BAR ? 0 : 1;
  const score = branch(
    'score-partwise',
    [
      branch('work', [leaf('work-title', title)]),
      branch('identification', [branch('encoding', [leaf('software', 'Linekeeper')])]),
      branch('part-list', [branch('score-part', [leaf('part-name', 'Line')], { id: 'P1' })]),
      branch(
        'part',
        measures.map((measure, index) =>
          measureElement(form, measure, index, firstNumber, tempoBpm),
        ),
        { id: 'P1' },
      ),
    ],
    { version: '4.0' },
  );
  return `<?xml version="1.0" encoding="UTF-8" standalone="no"?>\n${score}\n`;
}

function measureElement(
  form: Form,
  { bar, meter, meterSign, chords, beats }: Measure,
  index: number,
  firstNumber: 0 | 1,
  tempoBpm: number,
): string {
  const perBeat = quartersPerBeat(meter) * DIVISIONS;
  const attributes = [
    ...(index === 0 ? [leaf('divisions', DIVISIONS), keyElement(form.key)] : []),
    ...(meterSign === null ? [] : [timeElement(meter)]),
  ];
  const sound = { tempo: tempoBpm * quartersPerBeat(form.meter) };
  // What has been written when a beat begins: more than the beats before it where a longer note goes on.
  let written = 0;
  const content = beats.flatMap((beat, at) => {
    const ahead = at - written;
    written += beat.notes.reduce((sum, { length }) => sum + length, 0);
    return [
      ...chords
        .filter((chord) => Math.floor(chord.beat) === at + 1)
        .map((chord) =>
          harmonyElement(chord.symbol, Math.round((ahead + (chord.beat % 1)) * perBeat)),
        ),
      ...beatElements(
        { ...beat, notes: beat.notes.filter(({ slot }) => slot !== FILLING) },
        perBeat,
      ),
    ];
  });
  return branch(
    'measure',
    [
      ...(attributes.length === 0 ? [] : [branch('attributes', attributes)]),
      ...(index === 0 ? [branch('sound', [], sound)] : []),
      ...content,
    ],
    { number: index + firstNumber, ...(bar === PICKUP_BAR ? { implicit: 'yes' } : {}) },
  );
}
