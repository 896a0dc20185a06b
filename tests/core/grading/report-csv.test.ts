/** Cells of the table: text is never a formula, numbers stay numbers. Source: OWASP, "CSV Injection"; RFC 4180. */

import { describe, expect, test } from 'vitest';
import { CSV_HEADER, gradeTake, reportCsv, textCell } from '../../../src/core/grading/index.ts';
import { formFromText } from '../../helpers/form-from-text.ts';
import { gradeLine } from '../../helpers/hand-made.ts';

describe('a text cell', () => {
  test.each([
    '=1+1',
    '+1',
    '-1+1',
    '@SUM(A1)',
    '\t=1',
    '\r=1',
    '\n=1',
    '  =1',
    '＝1+1',
    '＋1',
    '－1',
    '＠x',
    '=HYPERLINK("http://elsewhere.example","x")',
  ])('%j is text', (text) => {
    const cell = textCell(text);
    // Whatever is parted and unquoted, the first sign is the apostrophe.
    expect(cell.replace(/^"/u, '')[0]).toBe("'");
  });

  test.each(['a;=1+1', 'a,=1+1', 'a"=1', 'a\n=1'])('%j stays one cell', (text) => {
    expect(textCell(text)).toBe(`"${text.replaceAll('"', '""')}"`);
  });

  test.each(['C7', 'Bb mixolydian', 'N.C.', 'evening-1.mid', 'a=b', ''])(
    '%j is left as it is',
    (text) => {
      expect(textCell(text)).toBe(text);
    },
  );
});

test('negative numbers of a report stay numbers, names of files do not become formulas', () => {
  const take = {
    events: [
      { kind: 'noteOn' as const, atMs: -8.25, midi: 60, velocity: 80 },
      { kind: 'noteOn' as const, atMs: 490.5, midi: 62, velocity: 80 },
    ],
    endMs: 1000,
    sources: [],
    breaks: [],
  };
  const tempo = { kind: 'steady' as const, tempoBpm: 60 };
  const report = gradeTake(formFromText('| Cmaj7 |'), take, { level: 'steps', tempo });
  const [row = ''] = reportCsv(report, '=cmd|x.mid').split('\r\n');
  const cells = row.split(',');
  const column = (name: string) => cells[CSV_HEADER.trim().split(',').indexOf(name)];
  expect(column('file')).toBe("'=cmd|x.mid");
  expect([column('onsetMs'), column('deviationMs')]).toEqual(['-8.25', '-8.25']);
});

test('a closing note is a last row without a place', () => {
  const played = 'C4 D4 E4 F4 G4 F4 E4 D4 C4';
  const report = gradeLine(formFromText('| Cmaj7 |'), played, { choruses: 1 });
  const rows = reportCsv(report, 'a.mid').trimEnd().split('\r\n');
  expect(rows).toHaveLength(9);
  expect(rows.at(-1)).toBe('a.mid,,,,,,Cmaj7,,4000,60,C4,4000,0,,,,closing,');
  expect(rows[0]?.endsWith(',,true')).toBe(true);
});

test('a row has a cell for each column, and none of a note where there is a gap', () => {
  const report = gradeLine(formFromText('| Cmaj7 |'), [
    { name: 'C4', velocity: 71 },
    null,
    { name: 'Db4', offMs: 80 },
  ]);
  const rows = reportCsv(report, 'a.mid').split('\r\n');
  expect(rows.map((row) => row.split(',').slice(1))).toEqual([
    [
      ...['0', '1', '1', '1', '0', 'Cmaj7', 'C ionian', '0', '60', 'C4', '0', '0', '71'],
      ...['450', '', '', 'true'],
    ],
    [
      '1',
      '1',
      '1',
      '1',
      '1',
      'Cmaj7',
      'C ionian',
      '500',
      '',
      '',
      '',
      '',
      '',
      '',
      'gap',
      '',
      'true',
    ],
    [
      ...['2', '1', '1', '2', '0', 'Cmaj7', 'C ionian', '1000', '61', 'Db4', '1080', '80', '80'],
      ...['450', 'late outside', '', 'true'],
    ],
    [],
  ]);
});
