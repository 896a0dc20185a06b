import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { strToU8, zipSync } from 'fflate';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parseChart } from '../../src/core/chart/index.ts';
import { writeMusicXml } from '../../src/core/chart/musicxml/index.ts';
import { LANTERN_WALK } from '../core/chart/example.ts';
import { chartHere as chart, gradeHere as grade } from '../helpers/command-here.ts';

const root = fileURLToPath(new URL('../..', import.meta.url));
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'chart-command-'));
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function file(name: string, content: string | Uint8Array): string {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
}

/** Runs it in a program of its own. */
function inProgram(command: string, ...args: readonly string[]) {
  const options = {
    cwd: root,
    encoding: 'utf8',
    env: { ...process.env, FORCE_COLOR: '' },
  } as const;
  const { status, stdout, stderr } = spawnSync(command, args, options);
  return { code: status, out: stdout, err: stderr };
}

const ESCAPE = '\u001B';

describe('the program', () => {
  it.each<readonly [string, readonly string[], number]>([
    ['a page', [], 0],
    ['wrong usage', ['--plan', 'side dor'], 2],
    ['a file that is not there', ['nowhere.chart'], 3],
  ])('prints what the command prints here, and ends with its code: %s', (_, args, code) => {
    const asked = code === 3 ? args : [file('lantern.chart', LANTERN_WALK), ...args];
    const run = inProgram(process.execPath, join('src', 'main', 'chart.ts'), ...asked);
    expect(run).toEqual(chart(...asked));
    expect(run.code).toBe(code);
  });

  it('prints one JSON object through npm, on its own', () => {
    const path = file('lantern.chart', LANTERN_WALK);
    const run = inProgram('npm', 'run', '--silent', 'chart', '--', path, '--json');
    expect(run).toEqual(chart(path, '--json'));
    expect({ code: run.code, err: run.err }).toEqual({ code: 0, err: '' });
    expect(JSON.parse(run.out)).toMatchObject({
      schema: 'linekeeper.chart/1',
      title: 'Lantern Walk',
      key: 'Bb',
      plans: ['plain', 'side door'],
      errors: [],
    });
  });
});

describe('a score', () => {
  function score(): string {
    const parsed = parseChart(LANTERN_WALK);
    if (!parsed.ok) throw new Error('the example does not parse');
    return writeMusicXml(parsed.value);
  }
  /** Source of the container: MusicXML 4.0, "Compressed .mxl files". */
  function compressed(xml: string): Uint8Array {
    const container =
      '<container><rootfiles><rootfile full-path="a.musicxml"/></rootfiles></container>';
    return zipSync({ 'META-INF/container.xml': strToU8(container), 'a.musicxml': strToU8(xml) });
  }
  const barsOf = (out: string) => JSON.parse(out).bars;

  it('is read as the chart it holds, compressed or not, and graded against', () => {
    const bars = barsOf(chart(file('lantern.chart', LANTERN_WALK), '--json').out);
    for (const [name, bytes] of [
      ['lantern.musicxml', score()],
      ['lantern.MXL', compressed(score())],
      ['lantern.xml', score()],
    ] as const) {
      const path = file(name, bytes);
      const { code, out, err } = chart(path, '--json');
      expect({ code, err }).toEqual({ code: 0, err: '' });
      expect(barsOf(out)).toEqual(bars);
      const take = join(root, 'shared', 'demo-takes', 'late-at-seven.mid');
      expect(JSON.parse(grade(take, '--chart', path, '--json').out).chart).toBe('Lantern Walk');
    }
  });

  it('tells what the chart does not hold of it', () => {
    const marked = score().replace(
      '<harmony>',
      '<harmony><function>ii</function></harmony><harmony>',
    );
    const path = file('marked.musicxml', marked);
    const { code, err } = chart(path);
    expect(code).toBe(0);
    expect(err).toMatch(/^.*marked\.musicxml: Measure 1: .*\.\n$/u);
  });

  it('that is cut short is refused with place and remedy, and as data', () => {
    const path = file('torn.musicxml', score().slice(0, 900));
    const { code, out, err } = chart(path);
    expect({ code, out }).toEqual({ code: 3, out: '' });
    expect(err).toMatch(
      /torn\.musicxml {2}Line \d+, column \d+: .*\. Export it again as MusicXML\.\n$/u,
    );
    const [error] = JSON.parse(chart(path, '--json').out).errors;
    expect(error.line).toBeGreaterThan(1);
    expect(error.expected).toBe('a score in MusicXML with chord symbols');
  });

  it('without chord symbols is refused, a folder by that name too', () => {
    const bare = score().replace(/<harmony[\s\S]*?<\/harmony>/gu, '');
    expect(chart(file('bare.musicxml', bare)).err).toContain('no chord symbol');
    mkdirSync(join(folder, 'folder.mxl'));
    expect(chart(join(folder, 'folder.mxl'))).toMatchObject({
      code: 3,
      err: expect.stringContaining('Read “a folder”, expected a file.'),
    });
  });
});

describe('the chart command', () => {
  it('prints a pickup: its length, and its chords before bar 1', () => {
    const text = (pickup: string) => LANTERN_WALK.replace('\n\n', `\npickup: ${pickup}\n\n`);
    const bare = chart(file('bare.chart', text('3/8'))).out;
    expect(bare).toContain(' · pickup 3 eighths · 8 bars · ');
    expect(bare).not.toMatch(/^ {4}0 \|/mu);
    const { out } = chart(file('chords.chart', text('2 Cm7 F7')));
    expect(out).toMatch(/ · pickup 2 beats · .*\n.*\n\npickup\n {4}0 \| Cm7 F7 \|\n/u);
    expect(out).toMatch(/^ +0\.2 +F7 +F mixolydian/mu);
  });

  it('prints a page: rows of bars, and for every chord its palette, its tones and why', () => {
    const { code, out, err } = chart(file('lantern.chart', LANTERN_WALK));
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toMatch(
      /^Lantern Walk\nkey Bb · meter 4\/4 · tempo 66 · 8 bars · plan plain\nother plans: side door\n/u,
    );
    expect(out).toMatch(/^ {4}5 \| Cm7 +\| Cm7 +\| Cm7 F7 +\| Bb6 \/ \/ F7 \|$/mu);
    expect(out).toMatch(
      /^ +4\.1 +G7 +G phrygian dominant +G Ab B C D Eb F +given +named in the chart$/mu,
    );
    expect(out.match(/ chosen {2}/gu)).toHaveLength(10);
    expect(out).not.toContain(ESCAPE);
  });

  it('tells what each rule that makes plans finds, and why it leaves others, when asked', () => {
    const path = file('lantern.chart', LANTERN_WALK);
    const { code, out, err } = chart(path, '--rules');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out.startsWith(chart(path).out)).toBe(true);
    expect(out).toContain('\nrules\n  Tritone substitute: 2 places, 2 left\n');
    expect(out).toContain('\n    bar 7: Cm7 F7 → Cm7 B7 <lydian dominant>\n');
    expect(out).toContain('\n    bar 4, G7: its palette is named, and that choice stays\n');
    const { rules } = JSON.parse(chart(path, '--rules', '--json').out);
    expect(rules[0]).toMatchObject({
      rule: 'tritone-substitute',
      places: [
        { bar: 7, chord: 2 },
        { bar: 8, chord: 2 },
      ],
      left: [
        { bar: 2, chord: 2, symbol: 'F7', why: 'goesElsewhere' },
        { bar: 4, chord: 1, symbol: 'G7', why: 'named' },
      ],
    });
    expect(JSON.parse(chart(path, '--json').out)).not.toHaveProperty('rules');
  });

  it('prints another plan and another key', () => {
    const path = file('lantern.chart', LANTERN_WALK);
    const { code, out } = chart('--plan', 'side door', '--key=C', '--json', path);
    const json = JSON.parse(out);
    expect(code).toBe(0);
    expect(json.key).toBe('C');
    expect(json.bars[1].chords.map(({ symbol }: { symbol: string }) => symbol)).toEqual([
      'Dm7',
      'C#7',
    ]);
    // C# lydian dominant: B lydian dominant, a tone up by hand
    expect(json.bars[1].chords[1].palette.pcs).toEqual([1, 3, 5, 7, 8, 10, 11]);
  });

  it('lists every error with its place, its line and a caret, and ends with 3', () => {
    const path = file(
      'broken.chart',
      'title: Pier\nkey: C\nmeter: 4/4\n| C | Qm7 |\n| C |\tD <doriann> |\n',
    );
    const { code, out, err } = chart(path);
    expect({ code, out }).toEqual({ code: 3, out: '' });
    expect(err).toContain(`${path}:4:7  Read “Qm7”`);
    expect(err).toContain('\n    | C | Qm7 |\n          ^\n');
    expect(err).toContain(`${path}:5:`);
    expect(err).toContain('\n    | C |\tD <doriann> |\n         \t');
    expect(err).toContain('nearest: dorian');
  });

  it('puts the errors into the JSON when asked, and ends with 3', () => {
    const { code, out, err } = chart(file('broken.chart', 'key: C\n| C |'), '--json');
    expect({ code, err }).toEqual({ code: 3, err: '' });
    const json = JSON.parse(out);
    expect(json.bars).toEqual([]);
    expect(json.errors).toHaveLength(1);
    expect(json.errors[0]).toEqual({
      line: 1,
      column: 1,
      read: 'no title',
      expected: expect.any(String),
      suggestion: null,
    });
  });

  it.each([
    ['a missing file', () => join(folder, 'nowhere.chart')],
    ['a folder', () => folder],
    ['bytes that are no UTF-8', () => file('latin.chart', Uint8Array.of(0x74, 0xe9, 0x0a))],
    [
      'a binary file',
      () => file('binary.chart', Uint8Array.of(0x4d, 0x54, 0x68, 0x64, 0, 0, 0, 6)),
    ],
    ['an empty file', () => file('empty.chart', '')],
    ['a file too large', () => file('large.chart', ' '.repeat(1024 * 1024 + 1))],
  ])('%s ends with 3, said on standard error or in the JSON', (_, path) => {
    const page = chart(path());
    expect({ code: page.code, out: page.out }).toEqual({ code: 3, out: '' });
    expect(page.err).not.toBe('');
    expect(page.err).not.toMatch(/\n\s+at /u);
    const json = chart(path(), '--json');
    expect(json.code).toBe(3);
    expect(JSON.parse(json.out).errors.length).toBeGreaterThan(0);
  });

  it.each([
    ['no file', [], /argument/u],
    ['two files', ['a.chart', 'b.chart'], /argument/u],
    ['an unknown option', ['a.chart', '--jsno'], /--json/u],
    ['an option without its value', ['a.chart', '--plan'], /--plan/u],
  ])('%s is wrong usage: 2', (_, args, hint) => {
    const { code, out, err } = chart(...args);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toMatch(hint);
  });

  it.each([
    ['a plan it does not have, with those it has', ['--plan', 'side dor'], /side door/u],
    ['a key that is none', ['--key', 'H'], /key/u],
    ['a key with the nearest one', ['--key', 'bb'], /Bb/u],
    ['a key of the other mode', ['--key', 'Gm'], /\bG\b/u],
  ])('%s is wrong usage: 2', (_, args, hint) => {
    const { code, out, err } = chart(file('lantern.chart', LANTERN_WALK), ...args);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toMatch(hint);
  });

  it('explains itself', () => {
    const { code, out, err } = chart('--help');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    for (const option of ['--plan', '--key', '--json', 'npm run --silent chart --'])
      expect(out).toContain(option);
  });

  it('does not let control characters of a file reach the terminal', () => {
    const { err } = chart(file('escape.chart', `title: ${ESCAPE}[31mred\n`));
    expect(err).toContain('title:');
    expect(err).not.toContain(ESCAPE);
  });
});
