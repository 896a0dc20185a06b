/** Laws of editing: what is changed is changed, what is not stays as it was typed. */

import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  applyEdits,
  barTexts,
  editHeader,
  editsTowards,
  formatChart,
  parseChart,
  readTree,
  transposeToKey,
} from '../../../src/core/chart/index.ts';
import { arbitraryChart } from '../../helpers/arbitrary-chart.ts';
import { runs } from '../../helpers/runs.ts';

const TYPED = `# for Thursday
title: Gangway Three   # working title
key: F
meter: 4/4

[A]
| Gm7   | C7 | # the easy half
| Fmaj7 | %  |

plan: side door
| Gm7 | Gb7 <lydian dominant> | % | % |
`;

function read(text: string) {
  const parsed = parseChart(text);
  if (!parsed.ok) throw new Error(parsed.problems.map(({ code }) => code).join());
  return parsed.value;
}

describe('the bars of a text', () => {
  test('are cut out where they stand, plan by plan', () => {
    const plans = barTexts(readTree(TYPED));
    expect(plans.map(({ name, bars }) => [name, bars.map(({ text }) => text)])).toEqual([
      ['plain', ['Gm7', 'C7', 'Fmaj7', '%']],
      ['side door', ['Gm7', 'Gb7 <lydian dominant>', '%', '%']],
    ]);
    for (const { bars } of plans) {
      for (const { from, to, text } of bars) expect(TYPED.slice(from, to)).toBe(text);
    }
  });

  test('are found in a text with problems too', () => {
    const [plain] = barTexts(readTree(TYPED.replace('C7', 'Cq7')));
    expect(plain?.bars.map(({ text }) => text)).toEqual(['Gm7', 'Cq7', 'Fmaj7', '%']);
  });

  test('are as many as the chart has, for every chart', () => {
    fc.assert(
      fc.property(arbitraryChart(), (chart) => {
        const bars = chart.sections.flatMap((section) => section.bars);
        const plans = barTexts(readTree(formatChart(chart)));
        expect(plans.map((plan) => plan.bars.length)).toEqual([
          bars.length,
          ...chart.plans.map((plan) => plan.bars.length),
        ]);
      }),
      { numRuns: runs(100, 40), seed: 20_261_129 },
    );
  });
});

describe('edits towards a chart', () => {
  test('keep comments and layout, and change one bar alone', () => {
    const wanted = read(TYPED.replace('| C7 |', '| C9 |'));
    expect(applyEdits(TYPED, editsTowards(TYPED, wanted))).toBe(TYPED.replace('| C7 |', '| C9 |'));
  });

  test('add a plan at the end', () => {
    const wanted = read(`${TYPED}\nplan: back stairs\n| % | C7 <altered> | % | % |\n`);
    const edited = applyEdits(TYPED, editsTowards(TYPED, wanted));
    expect(edited.startsWith(TYPED.trimEnd())).toBe(true);
    expect(read(edited)).toEqual(wanted);
  });

  test('lead to it from every chart, whatever differs', () => {
    fc.assert(
      fc.property(arbitraryChart(), arbitraryChart(), (from, to) => {
        const text = formatChart(from);
        expect(parseChart(applyEdits(text, editsTowards(text, to)))).toEqual(
          parseChart(formatChart(to)),
        );
        expect(applyEdits(text, editsTowards(text, from))).toBe(text);
      }),
      { numRuns: runs(100, 40), seed: 20_261_129 },
    );
  });

  test('move a typed chart to another key without losing its comments', () => {
    const moved = transposeToKey(read(TYPED), {
      ...read(TYPED).key,
      tonic: read(TYPED).key.tonic + 2,
    });
    if (!moved.ok) throw new Error('same mode');
    const edited = applyEdits(TYPED, editsTowards(TYPED, moved.value));
    expect(edited).toContain('# the easy half');
    expect(edited).toContain('title: Gangway Three   # working title');
    expect(read(edited)).toEqual(moved.value);
  });
});

describe('a header', () => {
  test('gets another value where it stands', () => {
    const edited = applyEdits(TYPED, [editHeader(TYPED, 'title', 'Gangway Four')]);
    expect(edited).toBe(TYPED.replace('Gangway Three', 'Gangway Four'));
  });

  test('is added when there is none, and cannot become a comment or a second line', () => {
    const edited = applyEdits(TYPED, [editHeader(TYPED, 'composer', 'the trio\n# and others')]);
    expect(read(edited).headers).toEqual([{ name: 'composer', value: 'the trio ♯ and others' }]);
  });
});
