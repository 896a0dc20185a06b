/** What the stage says of the time: where the take is, which tones move. Cases by hand, own words. */

import { expect, test } from 'vitest';
import { placeInForm, toneMoves } from '../../../src/renderer/palette/palette-words.ts';
import { isSameMoment, momentAt } from '../../../src/renderer/stage/moment.ts';
import { moveWords } from '../../../src/renderer/stage/tone-moves.ts';
import { C_DORIAN, C_IONIAN, formOf, symbol } from '../../helpers/hand-made.ts';

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

test('a moment is another one with each beat, and says bar, beat and what is left; not between', () => {
  const moments = Array.from({ length: 49 }, (_, half) => momentAt(form, half / 2));
  const news = moments.flatMap((moment, half) =>
    isSameMoment(moment, moments[half - 1] ?? null) ? [] : [half / 2],
  );
  expect(news).toEqual(Array.from({ length: 25 }, (_, beat) => beat));
  expect(moments.map((moment) => moment?.chorus).at(-1)).toBe(3);
  expect(momentAt(form, 6)).toMatchObject({ bar: 2, beat: 3, beatsLeft: 2, isNear: true });
  expect(momentAt(form, 5.9)).toMatchObject({ bar: 2, beat: 2, beatsLeft: 3, isNear: false });
  expect(momentAt(form, null)).toMatchObject({ bar: null, beat: null, before: null });
});

test('the count-in is counted back from the first downbeat, and says how long until then', () => {
  const counted = [-8, -5, -4, -3.5, -1, -0.2].map((beat) => momentAt(form, beat));
  expect(counted.map((moment) => [moment?.beat, moment?.beatsLeft])).toEqual([
    [1, 8],
    [4, 5],
    [1, 4],
    [1, 4],
    [4, 1],
    [4, 1],
  ]);
  expect(counted[0]).toMatchObject({ bar: null, before: 'countIn', isNear: false });
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

test('of tones that leave and arrive, those are one move that lie nearest', () => {
  const [first, , third] = form.bars.map(({ chords }) => chords[0]);
  if (!first || !third) throw new Error('three bars with a chord each');
  expect(moveWords(toneMoves(first, third))).toEqual(['E → E♭', 'B → B♭']);
  expect(moveWords(toneMoves(first, first))).toEqual([]);
  const alone = [{ note: 'F#', pc: 6, move: 'arrives' }] as const;
  expect(moveWords(alone)).toEqual(['→ F♯']);
});
