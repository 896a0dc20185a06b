/** Approaches in written lines are called by where they lead, as the grader calls them in its report. */

import { describe, expect, test } from 'vitest';
import { DRILL_STYLES, writeDrill } from '../../../src/core/line/index.ts';
import { drillText, formFrom, gradeDrill, WISH } from './drill/drilling.ts';

test('an enclosure in a flat key has a sharp from below, one in a sharp key a flat from above', () => {
  const inFlats = drillText(formFrom('| F7 <mixolydian> | F7 <mixolydian> |'), 'enclosures', WISH);
  expect(inFlats.split(' ')).toContain('G#4');
  expect(inFlats).not.toContain('Ab4');
});

describe.each(DRILL_STYLES)('%s', (style) => {
  test.each([
    '| Dm7 | G7 | Cmaj7 | A7b9 |',
    '| Abm7 | Db7 | Gbmaj7 | % |',
    '| F#m7b5 | B7b9 | Em6 | % |',
  ])('is named over %s as its report names it', (bars) => {
    const form = formFrom(bars);
    const drill = writeDrill(form, style, WISH);
    if (!drill.ok) throw new Error('no drill');
    const graded = gradeDrill(form, drill.value);
    const named = graded.slots.flatMap(({ note }) => (note === null ? [] : [note.name]));
    expect(drill.value.notes.map(({ name }) => name)).toEqual(named);
  });
});
