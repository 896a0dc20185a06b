/** Elements a chart and a line have in common. Source: MusicXML 4.0, `harmony`, `key`, `time`. */

import { type ChordSymbol, type Key, keyFifths, qualityText } from '../../theory/index.ts';
import { formatMeter } from '../meter.ts';
import type { Meter } from '../model.ts';
import { kindOf, stepAndAlter } from './harmony.ts';
import { branch, leaf } from './xml-text.ts';

export function keyElement(key: Key): string {
  return branch('key', [leaf('fifths', keyFifths(key)), leaf('mode', key.mode)]);
}

/** Groups that are not the usual ones are written as a sum: `2+3`. */
export function timeElement(meter: Meter): string {
  const [beats = '', type = ''] = formatMeter(meter).split('/');
  return branch('time', [leaf('beats', beats), leaf('beat-type', type)]);
}

/** A chord symbol, null for N.C., so many divisions after where it stands in its measure. */
export function harmonyElement(symbol: ChordSymbol | null, offset: number): string {
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
    leaf('kind', kind.value, { text: qualityText(symbol) }),
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
