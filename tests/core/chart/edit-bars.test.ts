/** Bars put in, taken out and moved in the text: the chart that is read afterwards has just that bar more or less. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  addBarEdits,
  applyEdits,
  barTexts,
  formatChart,
  parseChart,
  readTree,
  removeBarEdits,
  transposeBarText,
} from '../../../src/core/chart/index.ts';
import { arbitraryChart } from '../../helpers/arbitrary-chart.ts';
import { runs } from '../../helpers/runs.ts';

const TYPED = `title: Gangway Three
key: F
meter: 4/4

[A]
| Gm7 | C7 | Fmaj7 | % | # four
|: Bbmaj7 | Bbm7 :|

plan: side door
| Gm7 | Gb7 | % | % |
| % | % |
`;

const barsIn = (text: string) =>
  barTexts(readTree(text)).map(({ bars }) => bars.map((bar) => bar.text).join(' | '));

/** The same with what `%` means in its place, in the chart itself. */
const meantIn = (text: string) =>
  barTexts(readTree(text)).map(({ bars }, plan) => {
    let before = '';
    return bars.map((bar) => {
      if (plan === 0 && bar.text === '%') return before;
      before = bar.text;
      return bar.text;
    });
  });

describe('a bar more', () => {
  test('stands after its neighbour, and keeps the plans as long as the chart', () => {
    const edited = applyEdits(TYPED, addBarEdits(TYPED, 1, 'Db7'));
    expect(barsIn(edited)).toEqual([
      'Gm7 | C7 | Db7 | Fmaj7 | % | Bbmaj7 | Bbm7',
      'Gm7 | Gb7 | % | % | % | % | %',
    ]);
    expect(parseChart(edited).ok).toBe(true);
  });

  test('begins a line when the line before is full', () => {
    const full = 'title: a\nkey: C\nmeter: 4/4\n\n| C | F | G | C |\n';
    expect(applyEdits(full, addBarEdits(full, 3, 'Am'))).toBe(
      'title: a\nkey: C\nmeter: 4/4\n\n| C | F | G | C |\n| Am |\n',
    );
  });

  test('stays within a repeat when it follows its last bar', () => {
    const edited = applyEdits(TYPED, addBarEdits(TYPED, 5, 'Eb9'));
    expect(edited).toContain('|: Bbmaj7 | Bbm7 | Eb9 :|');
  });

  test('and the same bar less is the text as it was, for every chart', () => {
    fc.assert(
      fc.property(arbitraryChart(), fc.nat(), (chart, pick) => {
        const text = formatChart(chart);
        const bars = chart.sections.flatMap((section) => section.bars).length;
        const after = pick % bars;
        const longer = applyEdits(text, addBarEdits(text, after, 'C7'));
        const added = barTexts(readTree(longer));
        expect(added.map((plan) => plan.bars.length)).toEqual(added.map(() => bars + 1));
        expect(added[0]?.bars[after + 1]?.text).toBe('C7');
        const removed = removeBarEdits(longer, after + 1);
        if (removed.ok) {
          expect(meantIn(applyEdits(longer, removed.value))).toEqual(meantIn(text));
        }
      }),
      { numRuns: runs(100, 40), seed: 20_261_129 },
    );
  });
});

describe('a bar less', () => {
  test('is refused where its lines carry a sign, and where it is the only one', () => {
    const signs = TYPED.replace('Bbmaj7 | Bbm7 :|', 'Bbmaj7 :|: Bbm7 :|');
    expect(removeBarEdits(signs, 4)).toEqual({ ok: false, problems: ['sign'] });
    const section = 'title: a\nkey: C\nmeter: 4/4\n[A]\n| C |\n[B]\n| F |\n';
    expect(removeBarEdits(section, 0)).toEqual({ ok: false, problems: ['sign'] });
    const lone = 'title: a\nkey: C\nmeter: 4/4\n\n| C |\n';
    expect(removeBarEdits(lone, 0)).toEqual({ ok: false, problems: ['lastBar'] });
  });

  test('leaves the repeat to its neighbour', () => {
    const removed = removeBarEdits(TYPED, 4);
    if (!removed.ok) throw new Error('refused');
    expect(applyEdits(TYPED, removed.value)).toContain('|: Bbm7 :|');
  });

  test('takes its line along when it stood alone there', () => {
    const text = 'title: a\nkey: C\nmeter: 4/4\n| C | F |\n| Am |\n';
    const removed = removeBarEdits(text, 2);
    if (!removed.ok) throw new Error('refused');
    expect(applyEdits(text, removed.value)).toBe('title: a\nkey: C\nmeter: 4/4\n| C | F |\n');
  });

  test('takes its bar line along', () => {
    const removed = removeBarEdits(TYPED, 2);
    if (!removed.ok) throw new Error('refused');
    expect(applyEdits(TYPED, removed.value)).toContain('| Gm7 | C7 | Fmaj7 | # four');
  });
});

describe('a bar moved', () => {
  const moved = (content: string, semitones: number) => {
    const text = `title: a\nkey: C\nmeter: 4/4\n| ${content} |\n`;
    const bar = barTexts(readTree(text))[0]?.bars[0];
    return bar === undefined ? null : transposeBarText(bar, semitones);
  };

  test.each([
    ['Cm7 F7', 1, 'Dbm7 F#7'],
    ['Cm7 F7', -1, 'Bm7 E7'],
    ['Bb7/D / % N.C.', 2, 'C7/E / % N.C.'],
    ['Am7 <dorian>', 12, 'Am7 <dorian>'],
  ])('%s by %i is %s', (content, semitones, expected) => {
    expect(moved(content, semitones)).toBe(expected);
  });

  test('up and down again sounds as before', () => {
    fc.assert(
      fc.property(fc.constantFrom('C', 'Db', 'E7', 'F#m7b5', 'Bb6'), fc.integer(), (chord, by) => {
        const there = moved(chord, by);
        expect(there === null ? null : moved(there, -by)).toBe(moved(chord, 0));
      }),
      { numRuns: runs(100, 40), seed: 20_261_129 },
    );
  });
});

describe('a bar taken out', () => {
  const without = (bars: string, index: number): string => {
    const text = `title: a\nkey: C\nmeter: 4/4\n${bars}\n`;
    const removed = removeBarEdits(text, index);
    return removed.ok ? barsIn(applyEdits(text, removed.value)).join(' / ') : 'refused';
  };

  test.each([
    ['| C | % | F |', 0, 'C | F'],
    ['| C F | % | % | G |', 0, 'C F | % | G'],
    ['| C | F | % |', 1, 'C | F'],
    ['| C | % | % |', 1, 'C | %'],
    ['| Am7 <dorian> |\n| % | G |', 0, 'Am7 <dorian> | G'],
    // In a plan % keeps the bar of the chart, which goes on to mean what it meant.
    ['| C | % | F |\nplan: p\n| D | % | % |', 0, 'C | F / % | %'],
  ])('leaves what %% means after it: %s', (bars, index, expected) => {
    expect(without(bars, index)).toBe(expected);
  });

  test('and one put in leaves it too', () => {
    const text = 'title: a\nkey: C\nmeter: 4/4\n| C | % | F |\n';
    expect(barsIn(applyEdits(text, addBarEdits(text, 0, 'G7')))).toEqual(['C | G7 | C | F']);
  });
});
