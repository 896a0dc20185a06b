/** What must hold of the syntax tree of any text, told as the first thing that does not, and texts to ask it of. */

import fc from 'fast-check';
import {
  addBarEdits,
  applyEdits,
  barTexts,
  type ChartProblem,
  editHeader,
  keyEdit,
  pickupEdit,
  printTree,
  readChart,
  readTree,
  removeBarEdits,
} from '../../../src/core/chart/index.ts';

const HEADERS = [
  'title: Pier Lights',
  ' Title :  Pier # and more',
  'titel: Pier Lights',
  'key: Bb',
  'key: H',
  'key: bb',
  'meter: 3/4',
  'metre: 4/4',
  'meter: 4 / 4',
  'meter: 4/5',
  'tempo: 66 bpm',
  'tempo 66',
  'tempo: 66',
  'pickup: 1 beat',
  'pickup: 3/8 F7',
  'pickup: Dm7 | %',
  'note: <a # b> c',
  'feel: slow',
  'hello there',
  '# a comment',
  '',
];

const CELLS = [
  ...['C', 'Dm7 G7', 'C7#9', '#9', 'Cq7', 'Hm', '%', '% F', '/ C', '///', 'C / / F', 'C F G A B'],
  ...[
    'C F G A B C D E',
    'N.C.',
    'C7 <dorian>',
    'C7 <dorain>',
    'F <ionian #5>',
    'F <F melodc minor>',
  ],
  ...[
    'C <C D H E>',
    'C <c D E>',
    'C <>',
    '<dorian>',
    'C7 <dorian',
    'C <a # b>',
    'C7 #9',
    '__proto__',
  ],
  ...[
    '(3/4) C',
    '(3/5) C',
    '(segno) C',
    'C (fine)',
    '(coda)',
    '(D.C. al fine)',
    '(sengo)',
    'C (fine) F',
  ],
  ...['', ' ', 'C [B]', 'F(b9', 'C7(b9, #11)'],
] as const;

const BAR_LINES = [
  '|',
  '|',
  '|',
  '|',
  '||',
  '|:',
  ':|',
  ':|:',
  '|1',
  ':|2',
  '|1,3',
  '|||',
  ':',
  ':||',
];
const ENDS = ['\n', '\n', '\n', '\r\n', '\r', '\n\n', ' # x\n', '  \n'];

function barsLine(): fc.Arbitrary<string> {
  const cell = fc.tuple(
    fc.constantFrom('', ' ', '  '),
    fc.constantFrom(...CELLS),
    fc.constantFrom(' ', ''),
    fc.constantFrom(...BAR_LINES),
  );
  return fc
    .tuple(
      fc.constantFrom('', '', '', '[A] ', '[A', '[]', ' [B]'),
      fc.constantFrom('|', '|', '|', '|:', ''),
      fc.array(cell, { minLength: 1, maxLength: 6 }),
      fc.constantFrom('', '', '', ' F', ' C7 #9 | F', '# x'),
    )
    .map(([section, opening, cells, end]) => section + opening + cells.flat().join('') + end);
}

/** Texts as people type them, right and wrong, and some of no kind at all. */
export function arbitraryChartText(): fc.Arbitrary<string> {
  const header = fc.constantFrom(...HEADERS);
  const bars = fc.oneof(
    { weight: 6, arbitrary: barsLine() },
    { weight: 3, arbitrary: fc.constantFrom('| C | % | F G7 | % |', '[A]\n| Am7 | D7 | % |') },
    { weight: 1, arbitrary: header },
    {
      weight: 1,
      arbitrary: fc.constantFrom('[A]', '[B] # b', 'plan: p', 'plan: P', 'plan:', '(3/4)'),
    },
  );
  const line = (one: fc.Arbitrary<string>) =>
    fc.tuple(one, fc.constantFrom(...ENDS)).map((parts) => parts.join(''));
  const typed = fc
    .tuple(
      fc.constantFrom('', '', '', '\uFEFF'),
      fc.constantFrom('title: Pier Lights\n', 'title: a\nkey: C\nmeter: 4/4\n', ''),
      fc.array(line(header), { maxLength: 3 }),
      fc.array(line(bars), { maxLength: 5 }),
      fc.constantFrom('', '', '| C |', 'x'),
    )
    .map((parts) => parts.flat().join(''));
  const right = fc
    .array(
      fc.constantFrom(...['C', 'F7 Bb', '% ', 'Am7 <dorian> # a\n', 'G7'].map((one) => ` ${one}|`)),
    )
    .map((cells) => `title: a\n| C |${cells.join('')}\n[B] | F | % |\n`);
  return fc.oneof(
    { weight: 12, arbitrary: typed },
    { weight: 2, arbitrary: right },
    { weight: 1, arbitrary: fc.string({ unit: 'binary', maxLength: 120 }) },
  );
}

/** The codes of the problems of a text that come with a fix; null for a chart without problems. */
export function fixedCodes(text: string): readonly string[] | null {
  const { problems } = readChart(text);
  if (problems.length === 0) return null;
  return problems.flatMap(({ code, fix }) => (fix === null ? [] : [code]));
}

export function breaksPrintLaw(text: string): string | null {
  const printed = printTree(readTree(text));
  return printed === text ? null : `printed ${JSON.stringify(printed)}`;
}

function isSame(one: ChartProblem, other: ChartProblem): boolean {
  return one.code === other.code && one.line === other.line && one.column === other.column;
}

export function breaksFixLaw(text: string): string | null {
  for (const problem of readChart(text).problems) {
    if ((problem.fix === null) !== (problem.suggestion === null))
      return `${problem.code} offers half`;
    if (problem.fix === null) continue;
    const fixed = applyEdits(text, [problem.fix]);
    if (readChart(fixed).problems.some((other) => isSame(other, problem))) {
      return `${problem.code} is still there in ${JSON.stringify(fixed)}`;
    }
  }
  return null;
}

/** All that a text says, in parts: bars as they are meant, their signs, headers, comments. */
interface Said {
  readonly headers: readonly (readonly [string, string])[];
  readonly bars: readonly (readonly string[])[];
  /** Bar lines that say something, meters, marks, sections. */
  readonly signs: readonly string[];
  readonly comments: readonly string[];
}

function said(text: string): Said {
  const tree = readTree(text);
  const tokens = tree.lines.flatMap((line) => line.tokens);
  const spans = [tree.plain, ...tree.plans].flatMap(({ bars }) => bars);
  const isInBar = (at: number): boolean => spans.some(({ from, to }) => from <= at && at < to);
  const isSign = (kind: string): boolean => ['barLine', 'meter', 'mark', 'section'].includes(kind);
  return {
    headers: [...tree.headers, ...tree.plans.map(({ header }) => header)].map(({ name, value }) => [
      ...([name, value] as const),
    ]),
    bars: barTexts(tree).map(({ bars }, plan) => {
      let before = '%';
      return bars.map(({ text: bar }) => {
        if (plan > 0 || bar !== '%') before = bar.trimEnd();
        return before;
      });
    }),
    signs: tokens.flatMap(({ kind, from, text: sign }) =>
      isSign(kind) && sign !== '|' && !isInBar(from) ? [sign] : [],
    ),
    comments: tokens.flatMap(({ kind, text: comment }) => (kind === 'comment' ? [comment] : [])),
  };
}

function differs(what: string, edited: string, wanted: Said): string | null {
  const [one, other] = [JSON.stringify(said(edited)), JSON.stringify(wanted)];
  return one === other ? null : `${what}: ${one}, not ${other}, in ${JSON.stringify(edited)}`;
}

/** In: a text, and the index of a bar of it, which may be beyond its last. */
export function breaksEditLaw(text: string, index: number): string | null {
  const now = said(text);
  // What repeats an empty bar, or one that is cut off in its palette, means nothing; nor does what no bar line opens.
  const typed = readTree(text).plain.bars;
  const isLost = (at: number): boolean => /^%?$|<[^>]*$/u.test(now.bars[0]?.[at] ?? '');
  if (
    typed.some(
      ({ tokens, opening }, at) => tokens[0]?.text === '%' && (opening === null || isLost(at)),
    )
  ) {
    return null;
  }
  const withBars = (
    change: (bars: readonly string[], plan: number) => readonly string[],
  ): Said => ({
    ...now,
    bars: now.bars.map((bars, plan) => (bars[index] === undefined ? bars : change(bars, plan))),
  });
  const added = (content: string): Said =>
    withBars((bars, plan) => bars.toSpliced(index + 1, 0, plan > 0 ? '%' : content));
  const removed = removeBarEdits(text, index);
  const withHeader = (name: string, value: string): Said => {
    const at = now.headers.findIndex(([other]) => other === name);
    const known = at < 0 ? 0 : 1;
    return { ...now, headers: now.headers.toSpliced(at * known, known, [name, value]) };
  };
  const sorted = (one: Said): Said => ({ ...one, headers: one.headers.toSorted() });
  const headerBroken = (what: string, edited: string, wanted: Said): string | null => {
    const [is, want] = [sorted(said(edited)), sorted(wanted)].map((one) => JSON.stringify(one));
    return is === want ? null : `${what}: ${is}, not ${want}`;
  };
  return (
    differs('a bar added', applyEdits(text, addBarEdits(text, index, 'Ab7')), added('Ab7')) ??
    differs(
      'the same bar again',
      applyEdits(text, addBarEdits(text, index, '%')),
      added(now.bars[0]?.[index] ?? '%'),
    ) ??
    (removed.ok
      ? differs(
          'a bar taken out',
          applyEdits(text, removed.value),
          withBars((bars) => bars.toSpliced(index, 1)),
        )
      : null) ??
    headerBroken(
      'title',
      applyEdits(text, [editHeader(text, 'title', 'Quay')]),
      withHeader('title', 'Quay'),
    ) ??
    headerBroken('key', applyEdits(text, [keyEdit(text, 'Ab')]), withHeader('key', 'Ab')) ??
    headerBroken(
      'pickup',
      applyEdits(text, [pickupEdit(text, '1 F7')]),
      withHeader('pickup', '1 F7'),
    )
  );
}
