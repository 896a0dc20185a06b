/** What the play screen says: where the take is, which tones move, the totals. Cases by hand, own words. */

import { expect, test } from 'vitest';
import { placeInForm, toneMoves } from '../../../src/renderer/palette/palette-words.ts';
import { isSameMoment, momentAt } from '../../../src/renderer/screens/play/moment.ts';
import { totalsInWords } from '../../../src/renderer/screens/play/totals.ts';
import { bar, C_DORIAN, C_IONIAN, formOf, gradeLine, symbol } from '../../helpers/hand-made.ts';

const again = { beats: 4, palette: C_IONIAN, symbol: symbol('C6', 'C') };
const form = formOf([
  [again],
  [again],
  [{ beats: 4, palette: C_DORIAN, symbol: symbol('Cm7', 'C') }],
]);

test.each([
  [-4, 1, 1, 'Cm7', 8],
  [0, 1, 1, 'Cm7', 8],
  [5, 1, 2, 'Cm7', 3],
  [8, 1, 3, 'C6', 4],
  [12.5, 2, 1, 'Cm7', 7.5],
])(
  'at beat %s the take is in chorus %s, bar %s, and %s is next in %s beats',
  (beat, chorus, barNumber, next, left) => {
    const place = placeInForm(form, beat);
    expect(place).toMatchObject({ chorus, bar: barNumber, beatsLeft: left });
    expect(place?.next.symbol?.text).toBe(next);
  },
);

test('a moment is another one at a bar, a chord, a chorus and one beat before a change; not between', () => {
  const moments = Array.from({ length: 49 }, (_, half) => momentAt(form, half / 2));
  const news = moments.flatMap((moment, half) =>
    isSameMoment(moment, moments[half - 1] ?? null) ? [] : [half / 2],
  );
  expect(news).toEqual([0, 4, 7, 8, 11, 12, 16, 19, 20, 23, 24]);
  expect(moments.map((moment) => moment?.chorus).at(-1)).toBe(3);
  expect(momentAt(form, null)).toMatchObject({ bar: null, before: null });
  expect(momentAt(form, -4)).toMatchObject({ bar: null, before: 'countIn', isNear: false });
});

test('tones that stay, leave and arrive, in the order of the keyboard', () => {
  const [first, , third] = form.bars.map(({ chords }) => chords[0]);
  if (!first || !third) throw new Error('three bars with a chord each');
  expect(toneMoves(first, third).map(({ note, move }) => `${note} ${move}`)).toEqual([
    'C stays',
    'D stays',
    'Eb arrives',
    'E leaves',
    'F stays',
    'G stays',
    'A stays',
    'Bb arrives',
    'B leaves',
  ]);
});

test('totals count up to the last note and name changes once there are any', () => {
  const two = formOf([bar(C_IONIAN), bar(C_DORIAN)]);
  const { slots, changes } = gradeLine(two, 'C4 D4 - E4 F4 G4 F4 E4 D4 Eb4');
  expect(totalsInWords({ settled: slots, changes })).toBe(
    '9 of 10 slots clean, 1 of 1 changes on time',
  );
  expect(totalsInWords({ settled: slots.slice(0, 3), changes: [] })).toBe('2 of 2 slots clean');
  expect(totalsInWords({ settled: [], changes: [] })).toBe('Nothing settled yet.');
});
