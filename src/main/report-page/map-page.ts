/** The map of takes for a terminal: the tones of each chord with how often they were played, then holes and habits. */

import type { Form } from '../../core/chart/index.ts';
import { counted, mapFindings } from '../../core/findings/index.ts';
import {
  LEAST_CROSSINGS,
  LEAST_NOTES,
  longestRun,
  type MappedTakes,
  notesOn,
  timesPlayed,
  total,
} from '../../core/map/index.ts';
import type { Paint } from '../cli/paint.ts';

/** The page, with a line end after the last line. */
export function mapPage(form: Form, mapped: MappedTakes, colours: Paint): string {
  const { stretches, map, takes, leftOut, waiting } = mapped;
  const left = leftOut === 0 ? '' : `, ${leftOut} left out (undecided, or under half clean)`;
  const rows = map.chords.map((chord, index) => {
    const { place, chord: symbol = '', palette = '', names = [] } = stretches[index] ?? {};
    const bars =
      place === undefined || place.toBar === place.bar
        ? String(place?.bar ?? '')
        : `${place.bar}–${place.toBar}`;
    const tones = chord.tones.map((tone, at) => `${names[at] ?? ''} ${timesPlayed(tone)}`);
    const outside = chord.outside === 0 ? [] : [`outside ${chord.outside}`];
    return [bars, symbol, palette, [...tones, ...outside].join('  '), String(notesOn(chord))];
  });
  const widths = [0, 1, 2].map((column) =>
    rows.reduce((width, row) => Math.max(width, row[column]?.length ?? 0), 0),
  );
  const table = rows.map(([bars = '', chord = '', palette = '', tones = '']) => {
    const head = [bars, chord, palette].map((cell, at) => cell.padEnd(widths[at] ?? 0));
    return `  ${head.join('  ')}  ${tones}`;
  });
  const crossings = map.changes.reduce((sum, { intervals }) => sum + total(intervals), 0);
  const found = mapFindings(mapped);
  const parts = [
    colours.bold(`${form.title}, plan ${form.plan}: map of ${counted(takes, 'take')}${left}`),
    [colours.bold('Tones played'), ...table].join('\n'),
    [
      colours.bold('The line'),
      `  ${counted(map.turns, 'turn')}; the longest run in one direction has ${counted(longestRun(map), 'move')}; ${counted(crossings, 'change')} crossed`,
    ].join('\n'),
    [
      colours.bold('Holes and habits'),
      ...(found.length === 0 ? ['  none that is certain'] : found.map((line) => `  ${line}`)),
      ...(waiting === 0
        ? []
        : [
            colours.dim(
              `  Of ${waiting} more nothing is said yet: that takes ${LEAST_NOTES} notes on a chord, or ${LEAST_CROSSINGS} crossings of a change.`,
            ),
          ]),
    ].join('\n'),
  ];
  return `${parts.join('\n\n')}\n`;
}
