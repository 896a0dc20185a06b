import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatChart, parseChart } from '../../../src/core/chart/index.ts';
import { arbitraryChart } from '../../helpers/arbitrary-chart.ts';
import { runs } from '../../helpers/runs.ts';
import { LANTERN_WALK } from './example.ts';
import { chartOf, textOf } from './reading.ts';

describe('writing a chart', () => {
  it('gives an equal chart when read again', () => {
    fc.assert(
      fc.property(arbitraryChart(), (chart) => {
        expect(parseChart(formatChart(chart))).toEqual({ ok: true, value: chart });
      }),
      { numRuns: runs(300, 60), seed: 20_261_129 },
    );
  });

  it('writes the same text again', () => {
    fc.assert(
      fc.property(arbitraryChart(), (chart) => {
        const text = formatChart(chart);
        expect(formatChart(chartOf(text))).toBe(text);
      }),
      { numRuns: runs(100, 30), seed: 20_261_129 },
    );
  });

  it('lays bars out in aligned rows of four, plans in the same form', () => {
    expect(formatChart(chartOf(LANTERN_WALK))).toBe(`title: Lantern Walk
key: Bb
meter: 4/4
tempo: 66

[A]
| Bbmaj7 | Cm7 F7 | Dm7b5  | G7 <phrygian dominant> |
| Cm7    | %      | Cm7 F7 | Bb6 / / F7             |

plan: side door
[A]
| Bbmaj7 <lydian> | Cm7 B7 <lydian dominant> | Dm7b5 <locrian natural 2> | Db7 <mixolydian> |
| %               | %                        | %                         | %                |
`);
  });

  it('keeps bar lines, meter changes and sections', () => {
    const text = `title: Pier Lights
key: F#m
meter: 4/4
composer: the house trio
feel: slow

[A]
|: C     | F / / G |1 A | G    :|
|2 C#dim | N.C.    || C |: F G :|
(3/4)
| G / C | F / / |

[B]
| F | % ||
`;
    const chart = chartOf(text);
    expect(chartOf(formatChart(chart))).toEqual(chart);
    expect(formatChart(chart)).toBe(`title: Pier Lights
key: F#m
meter: 4/4
composer: the house trio
feel: slow

[A]
|: C     | F / / G |1 A |  G   :|
|2 C#dim | N.C.    || C |: F G :|
(3/4)
|  G C   | F       |

[B]
| F | % ||
`);
  });

  it('drops comments: they are no part of a chart', () => {
    const text = formatChart(chartOf(textOf('| C | # a remark\n')));
    expect(text).toBe('title: Pier Lights\nkey: Bb\nmeter: 4/4\n\n| C |\n');
  });

  it('bends headers from elsewhere so that no line end or comment sign breaks the text', () => {
    const chart = {
      ...chartOf(textOf('| C |')),
      title: 'Pier #3\nkey: C',
      headers: [{ name: 'note', value: '# x' }],
    };
    const again = chartOf(formatChart(chart));
    expect(again.title).toBe('Pier ♯3 key: C');
    expect(again.headers).toEqual([{ name: 'note', value: '♯ x' }]);
  });
});
