/** What the edited page shows of a text, as it is read and while it cannot be. */

import { describe, expect, test } from 'vitest';
import { readChart } from '../../../src/core/chart/index.ts';
import {
  chordNames,
  nearestPlace,
  PICKUP_PLACE,
  pageBars,
  pagePickup,
} from '../../../src/renderer/screens/edit/page-model.ts';

const HEAD = 'title: T\nkey: C\nmeter: 4/4\n';
const GOOD = `${HEAD}| Cmaj7 | Dm7 G7 | % | Am7 |\n\nplan: two\n| % | Ab7 | % | % |\n`;

/** Each bar's chords with their palettes; `!` stands before one that is wrong, `*` before one that was changed. */
function shown(text: string, plan = 'plain'): readonly string[] {
  return pageBars(readChart(text), plan).map((bar) => {
    const names = chordNames(bar).map((chord) => `${chord.text}:${chord.palette}`);
    return `${bar.problem === null ? '' : '!'}${bar.changed ? '*' : ''}${names.join(' ')}`;
  });
}

describe('the bars of a page', () => {
  const read = shown(GOOD);

  test('have their palettes once they are read', () => {
    expect(read).toEqual([
      expect.stringMatching(/^Cmaj7:C /u),
      expect.stringMatching(/^Dm7:D .*G7:G /u),
      '%:',
      expect.stringMatching(/^Am7:A /u),
    ]);
  });

  test('keep them beside what is wrong, in a text that was never without problems', () => {
    const typing = shown(GOOD.replace('Dm7 G7', 'Dm7 H'));
    expect(typing).toEqual([read[0], '!Dm7: H:', '%:', read[3]]);
    const added = shown(GOOD.replace('| % | Am7', '| H | Bq | % | Am7'));
    expect(added).toEqual([read[0], read[1], '!H:', '!Bq:', '%:', read[3]]);
    const fewer = shown(GOOD.replace('| Dm7 G7 | % |', '| H |'));
    expect(fewer).toEqual([read[0], '!H:', read[3]]);
  });

  test('keep them under headers that are wrong, and when the title is missing', () => {
    expect(shown(GOOD.replace('meter: 4/4', 'meter: 4/5'))).toEqual(read);
    expect(shown(GOOD.replace('title: T\n', ''))).toEqual(read);
  });

  test('keep what was changed in a plan, too', () => {
    const plan = shown(GOOD, 'two');
    expect(plan[1]).toMatch(/^\*Ab7:Ab /u);
    const typing = shown(GOOD.replace('| Cmaj7', '| Cmaj7 H'), 'two');
    expect(typing[1]).toBe(plan[1]);
  });
});

describe('the pickup of a page', () => {
  test('is what its header says, with what is wrong there', () => {
    expect(pagePickup(readChart(GOOD), null)).toEqual({ text: '', read: null, problem: null });
    const wrong = GOOD.replace('meter', 'pickup: 4 G7\nmeter');
    expect(pagePickup(readChart(wrong), null)).toMatchObject({
      text: '4 G7',
      problem: { code: 'unknownPickup', suggestion: '3 G7' },
    });
    const elsewhere = GOOD.replace('meter', 'pickup: 1\nmeter').replace('Am7', 'H');
    expect(pagePickup(readChart(elsewhere), null).problem).toBeNull();
  });

  test('is a place of its own before the bars', () => {
    expect(nearestPlace([], { bar: PICKUP_PLACE, chord: 3 })).toEqual({
      bar: PICKUP_PLACE,
      chord: 0,
    });
  });
});
