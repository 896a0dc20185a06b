/** Bars put in, taken out and moved in the text: the chart that is read afterwards has just that bar more or less. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  addBarEdits,
  applyEdits,
  formatChart,
  mendingEdit,
  parseChart,
  readBarTexts,
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
  readBarTexts(text).map(({ bars }) => bars.map((bar) => bar.text).join(' | '));

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
        const added = readBarTexts(longer);
        expect(added.map((plan) => plan.bars.length)).toEqual(added.map(() => bars + 1));
        expect(added[0]?.bars[after + 1]?.text).toBe('C7');
        const removed = removeBarEdits(longer, after + 1);
        if (removed.ok) {
          expect(barsIn(applyEdits(longer, removed.value))).toEqual(barsIn(text));
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
    expect(applyEdits(TYPED, removed.value)).toContain('| Gm7 | C7 | % | # four');
  });
});

describe('a bar moved', () => {
  const moved = (content: string, semitones: number) => {
    const text = `title: a\nkey: C\nmeter: 4/4\n| ${content} |\n`;
    const bar = readBarTexts(text)[0]?.bars[0];
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

describe('a mending', () => {
  test.each([
    ['| Cq7 | F |', '| C7 | F |'],
    ['| Cmaj7x | F |', '| Cmaj7 | F |'],
    ['| C7 <dorain> | F |', '| C7 <dorian> | F |'],
    ['| C7 | F7(b9 |', '| C7 | F7(b9) |'],
  ])('of %s is %s', (wrong, right) => {
    const text = `title: a\nkey: C\nmeter: 4/4\n${wrong}\n`;
    const parsed = parseChart(text);
    if (parsed.ok || parsed.problems[0] === undefined) throw new Error('there is no problem');
    const edit = mendingEdit(text, parsed.problems[0]);
    expect(edit === null ? null : applyEdits(text, [edit])).toBe(text.replace(wrong, right));
  });
});
