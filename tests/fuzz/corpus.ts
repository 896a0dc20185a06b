/** What good inputs the spoilt ones are made of: all that comes with the program. */

import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { parseChart } from '../../src/core/chart/index.ts';
import { present } from './target.ts';

const SHARED = join(import.meta.dirname, '..', '..', 'shared');

function filesOf(folder: string, ending: string): readonly string[] {
  return readdirSync(join(SHARED, folder))
    .filter((name) => name.endsWith(ending))
    .sort()
    .map((name) => join(SHARED, folder, name));
}

/** Chart texts with every sign there is. */
export const CHART_TEXTS: readonly string[] = [
  ...filesOf('charts', '.chart').map((path) => readFileSync(path, 'utf8')),
  'title: T\nkey: C\nmeter: 4/4\n|: C | Dm :|1 E | F :|2 G || (3/4) A | % |\n\nplan: other\n| C | % | D | % | % | % | % |\n',
  '\uFEFFtitle: T # c\nkey: F#m\nmeter: 12/8\ntempo: 60.5\n[A]\n| N.C. / C7(b9, #11) <C D Eb F#> / |\n',
  'title: T\nkey: Bb\nmeter: 4/4\n| C7 |',
];

export const CHARTS = CHART_TEXTS.flatMap((text) => {
  const read = parseChart(text);
  return read.ok ? [read.value] : [];
});

/** Short charts, for targets that read one many times. */
export const SHORT_CHART_TEXT = present(CHART_TEXTS.at(-1));

/** Bytes of MIDI files: the demo takes, cut where they are long, so that a change meets what matters. */
export const MIDI_FILES: readonly Uint8Array[] = filesOf('demo-takes', '.mid').map((path) =>
  Uint8Array.from(readFileSync(path)),
);
