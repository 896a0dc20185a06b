import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  MAX_CHART_BARS,
  MAX_CHART_LENGTH,
  MAX_CHART_PROBLEMS,
  parseChart,
} from '../../../src/core/chart/index.ts';
import { runs } from '../../helpers/runs.ts';
import { workingMs } from '../../helpers/working-time.ts';
import { barsOf, chartOf, contentOf, problemsOf, textOf } from './reading.ts';

const TIDY = textOf('[A]\n| C F#m7 | G7 |\n');

describe('the text itself', () => {
  it.each([
    ['carriage returns', TIDY.replaceAll('\n', '\r\n')],
    ['old line ends', TIDY.replaceAll('\n', '\r')],
    ['a byte order mark', `\uFEFF${TIDY}`],
    ['tabs', textOf('[A]\n|\tC\t\tF#m7 |G7\t|\n')],
    ['no last line end', TIDY.trimEnd()],
    ['blank lines', TIDY.replaceAll('\n', '\n \n\n')],
    ['white space around lines', TIDY.replaceAll('\n', '  \n  ')],
    ['no white space inside bars', textOf('[A]\n|C F#m7|G7|\n')],
    ['comments', textOf('# first\n[A] # the only one\n| C F#m7 | G7 | #end\n# last')],
    ['a section name and its bars on one line', textOf('[A] | C F#m7 | G7 |')],
    ['bars over several lines', textOf('[A]\n| C F#m7 |\n\n| G7 |')],
  ])('%s do not change the chart', (_, text) => {
    expect(chartOf(text)).toEqual(chartOf(TIDY));
  });

  it('reads Unicode accidentals as the ASCII ones', () => {
    const [ascii] = barsOf(chartOf(textOf('| F#m7b5 Bb7 |')));
    const [unicode] = barsOf(chartOf(textOf('| F♯m7♭5 B♭7 |')));
    const roots = (bar: typeof ascii) =>
      bar?.content.kind === 'chords'
        ? bar.content.chords.map(({ symbol }) => [symbol?.root, symbol?.tones])
        : null;
    expect(roots(unicode)).toEqual(roots(ascii));
    expect(roots(ascii)).toHaveLength(2);
  });

  it('takes a # that touches a word as a sharp, and one after white space as a comment', () => {
    const bars = barsOf(chartOf(textOf('| F#m7 | C7#9 | # G7 |')));
    expect(bars.map(contentOf)).toEqual(['F#m7@1+4', 'C7#9@1+4']);
  });

  it('says where white space before a # cut a bar off, with the chord it was meant for', () => {
    expect(parseChart(textOf('| C7 #9 | F |'))).toMatchObject({
      ok: false,
      problems: [
        { code: 'barNotClosed', line: 4, column: 6, read: '#9 | F |', suggestion: 'C7#9' },
      ],
    });
  });

  it.each([
    ['a NUL', `title: a\u0000b\n`, 'notText 1:9'],
    ['an escape in line 2', 'title: a\r\nkey\u001B: C', 'notText 2:4'],
    ['a lone C1 control', '\u0085', 'notText 1:1'],
  ])('%s is one clear problem', (_, text, problem) => {
    expect(problemsOf(text)).toEqual([problem]);
  });

  it.each([
    [
      'blocks of settings',
      '[Settings]\n{\n  speed = 4\n}\n[Rows]\n{\n  0 = 12\n}\n',
      '[Settings] {',
    ],
    ['data', '{"type": "bar", "labels": ["a"]}', '{'],
    ['markup', '<?xml version="1.0"?>\n<svg/>', '<?'],
  ])('says of %s that it is a file of another kind, and nothing more', (_, text, read) => {
    expect(parseChart(text)).toMatchObject({
      ok: false,
      problems: [{ code: 'otherKind', line: 1, column: 1, read }],
    });
  });

  it('takes a section with bars for what it is', () => {
    expect(problemsOf('title: a\n[A]\n| C |')).toEqual([]);
    expect(problemsOf('[A]\n| C |')).toEqual(['missingTitle 1:1']);
  });

  it('refuses text beyond the limit and takes text at it', () => {
    const atLimit = TIDY + ' '.repeat(MAX_CHART_LENGTH - TIDY.length);
    expect(problemsOf(atLimit)).toEqual([]);
    expect(problemsOf(`${atLimit} `)).toEqual(['tooLong 1:1']);
  });

  it('refuses one bar more than the most, and takes the most', () => {
    const bars = (count: number) => textOf(`| ${'C | '.repeat(count)}`);
    expect(barsOf(chartOf(bars(MAX_CHART_BARS)))).toHaveLength(MAX_CHART_BARS);
    // line 4: `| ` and then four characters for each bar
    expect(problemsOf(bars(MAX_CHART_BARS + 1))).toEqual([
      `tooManyBars 4:${3 + 4 * MAX_CHART_BARS}`,
    ]);
  });

  it('says so when there are no bars', () => {
    expect(problemsOf(textOf(''))).toEqual(['noBars 1:1']);
    expect(problemsOf('')).toContain('noBars 1:1');
  });

  it('lists no more than the most problems, and one that says there are more', () => {
    const outcome = parseChart(textOf('| Q | '.repeat(MAX_CHART_PROBLEMS * 2)));
    const codes = outcome.ok ? [] : outcome.problems.map(({ code }) => code);
    expect(codes).toHaveLength(MAX_CHART_PROBLEMS + 1);
    expect(codes.at(-1)).toBe('tooManyProblems');
  });
});

describe('hostile text', () => {
  const SIZE = 100_000;
  const SLOWEST_MS = 2000;

  it.each([
    '|',
    '| ',
    ':',
    '<',
    '< ',
    '(',
    '( ',
    '[',
    '#',
    ' #',
    '%',
    '/',
    'C7(',
    'C',
    '\n',
    '|:',
    ':|',
    'a:',
    '|1',
    'plan: x\n',
    '[A]\n',
    '| Q ',
    '| __proto__ ',
    '> ',
    '\u{1F3B9}',
    '\uD800',
    '\t',
  ])('a hundred thousand characters of %j end in bounded time without a throw', (piece) => {
    const text = piece.repeat(Math.ceil(SIZE / piece.length));
    const startedMs = workingMs();
    for (const whole of [
      text,
      textOf(text),
      textOf(`| ${text}`),
      textOf(`| C |\nplan: p\n${text}`),
    ])
      parseChart(whole);
    expect(workingMs() - startedMs).toBeLessThan(SLOWEST_MS);
  });

  it.each(['| ', '|| ', '| Q ', '[A]\n', 'x\n', '| C <> ', 'a: b\n', 'plan: x\n| C |\n'])(
    'the longest text, all of %j, ends in bounded time without a throw',
    (piece) => {
      const room = MAX_CHART_LENGTH - textOf('').length;
      const startedMs = workingMs();
      expect(parseChart(textOf(piece.repeat(Math.floor(room / piece.length)))).ok).toBe(false);
      expect(workingMs() - startedMs).toBeLessThan(2 * SLOWEST_MS);
    },
  );

  it.each(['__proto__', 'constructor', 'hasOwnProperty', 'toString'])(
    '%s is a name like any other',
    (name) => {
      const chart = chartOf(
        `${name}: x\n${textOf(`[${name}]\n| C |\nplan: ${name}\n| F |`)}`.replace(
          '__proto__:',
          'proto:',
        ),
      );
      expect(chart.sections[0]?.name).toBe(name);
      expect(chart.plans[0]?.name).toBe(name);
      expect(problemsOf(textOf(`| ${name} |`))).toEqual(['unknownChord 4:3']);
      expect(problemsOf(textOf(`| C <${name}> |`))).toEqual(['unknownPalette 4:6']);
    },
  );

  it('never throws, and places every problem inside the text', () => {
    const piece = fc.constantFrom(
      '|',
      '|:',
      ':|',
      '||',
      '|1',
      ':|2',
      ' ',
      '\n',
      'C7',
      'Dm',
      '%',
      '/',
      '<',
      '>',
      '<dorian>',
      '(3/4)',
      '[A]',
      '[',
      ']',
      '#',
      'plan: x',
      'key: C',
      ':',
      'N.C.',
    );
    const text = fc.oneof(
      fc.string({ unit: 'binary', maxLength: 200 }),
      fc.array(piece, { maxLength: 60 }).map((all) => all.join('')),
    );
    fc.assert(
      fc.property(text, fc.boolean(), (random, headed) => {
        const whole = headed ? textOf(random) : random;
        const outcome = parseChart(whole);
        if (outcome.ok) return;
        const lines = whole.replace(/^\uFEFF/u, '').split(/\r\n|\n|\r/u);
        expect(outcome.problems.length).toBeGreaterThan(0);
        for (const { line, column } of outcome.problems) {
          expect(column).toBeGreaterThanOrEqual(1);
          expect(column).toBeLessThanOrEqual((lines[line - 1]?.length ?? -1) + 1);
        }
      }),
      { numRuns: runs(500, 100), seed: 20_261_129 },
    );
  });
});
