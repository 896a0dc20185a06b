/** What the edited page shows of a text, as it is read and while it cannot be. */

import { describe, expect, test } from 'vitest';
import { parseChart } from '../../../src/core/chart/index.ts';
import {
  chordNames,
  type LastRead,
  nearestPlace,
  PICKUP_PLACE,
  pageBars,
  pagePickup,
} from '../../../src/renderer/screens/edit/page-model.ts';

const HEAD = 'title: T\nkey: C\nmeter: 4/4\n';
const GOOD = `${HEAD}| Cmaj7 | Dm7 G7 | % | Am7 |\n\nplan: two\n| % | Ab7 | % | % |\n`;

/** Each bar's chords with their palettes; `!` stands before one that is wrong, `*` before one that was changed. */
function shown(text: string, lastText = text, plan = 'plain'): readonly string[] {
  const parsed = parseChart(text);
  const last = parseChart(lastText);
  const read: LastRead = { chart: last.ok ? last.value : null, chartText: lastText };
  return pageBars(text, read, parsed.ok ? [] : parsed.problems, plan).map((bar) => {
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

  test('keep them before and after what is being typed, which has none until it is read', () => {
    const typing = shown(GOOD.replace('Dm7 G7', 'Dm7 H'), GOOD);
    expect(typing).toEqual([read[0], '!Dm7: H:', '%:', read[3]]);
    const added = shown(GOOD.replace('| % | Am7', '| H | Bq | % | Am7'), GOOD);
    expect(added).toEqual([read[0], read[1], '!H:', '!Bq:', '%:', read[3]]);
    const fewer = shown(GOOD.replace('| Dm7 G7 | % |', '| H |'), GOOD);
    expect(fewer).toEqual([read[0], '!H:', read[3]]);
  });

  test('keep what was changed in a plan, too', () => {
    const plan = shown(GOOD, GOOD, 'two');
    expect(plan[1]).toMatch(/^\*Ab7:Ab /u);
    const typing = shown(GOOD.replace('| Cmaj7', '| Cmaj7 H'), GOOD, 'two');
    expect(typing[1]).toBe(plan[1]);
  });

  test('have none where no text was ever read', () => {
    const never = `${HEAD}| Cmaj7 | H |\n`;
    expect(shown(never)).toEqual(['Cmaj7:', '!H:']);
  });
});

describe('the pickup of a page', () => {
  test('is what its header says, with what is wrong there', () => {
    const problems = (text: string) => {
      const parsed = parseChart(text);
      return parsed.ok ? [] : parsed.problems;
    };
    expect(pagePickup(GOOD, null, [])).toEqual({ text: '', read: null, problem: null });
    const wrong = GOOD.replace('meter', 'pickup: 4 G7\nmeter');
    expect(pagePickup(wrong, null, problems(wrong))).toMatchObject({
      text: '4 G7',
      problem: { code: 'unknownPickup', suggestion: '3 G7' },
    });
    const elsewhere = GOOD.replace('meter', 'pickup: 1\nmeter').replace('Am7', 'H');
    expect(pagePickup(elsewhere, null, problems(elsewhere)).problem).toBeNull();
  });

  test('is a place of its own before the bars', () => {
    expect(nearestPlace([], { bar: PICKUP_PLACE, chord: 3 })).toEqual({
      bar: PICKUP_PLACE,
      chord: 0,
    });
  });
});
