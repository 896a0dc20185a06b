/**
 * The grade command as a player runs it. Options and exit codes: own rules; the data: `reports.md`,
 * "A take: `linekeeper.report/1`".
 */

import { spawnSync } from 'node:child_process';
import {
  copyFileSync,
  mkdirSync,
  mkdtempSync,
  readFileSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { parseChart, unrollForm } from '../../src/core/chart/index.ts';
import { type GradeSettings, gradeTake, type Report } from '../../src/core/grading/index.ts';
import type { TakeEvent } from '../../src/core/take/model.ts';
import { decodeSmf, encodeSmf, smfFromTake, takeFromSmf } from '../../src/core/take/smf/index.ts';
import { gradeHere as grade } from '../helpers/command-here.ts';
import { inOrder, key } from '../helpers/hand-made.ts';

const root = join(import.meta.dirname, '..', '..');
const charts = join(root, 'shared', 'charts');
const demos = join(root, 'shared', 'demo-takes');
const BLUES = join(charts, 'boiler-room-blues.chart');
const LATE = join(demos, 'late-at-seven.mid');
const folder = mkdtempSync(join(tmpdir(), 'grade-'));

const SCRIPT = join(root, 'src', 'main', 'grade.ts');

/** Runs it as a player does. */
function gradeInProgram(...args: readonly string[]) {
  const run = spawnSync(process.execPath, [SCRIPT, ...args], {
    encoding: 'utf8',
    env: { ...process.env, NO_COLOR: '' },
    timeout: 20_000,
  });
  return { code: run.status, out: run.stdout, err: run.stderr };
}

describe('the program', () => {
  test.each([
    ['a page', [LATE, '--chart', BLUES], 0],
    ['data', [LATE, '--chart', BLUES, '--json'], 0],
    ['wrong usage', [LATE], 2],
    ['a file that is not there', ['nowhere.mid', '--chart', BLUES], 3],
  ])('prints what the command prints here, and ends with its code: %s', (_name, args, code) => {
    const run = gradeInProgram(...args);
    expect(run).toEqual(grade(...args));
    expect(run.code).toBe(code);
  });
});

function gradeJson(...args: readonly string[]): Report {
  const { out, err, code } = grade(...args, '--json');
  if (code !== 0) throw new Error(err);
  return JSON.parse(out) as Report;
}

function formFrom(text: string) {
  const chart = parseChart(text);
  if (!chart.ok) throw new Error(JSON.stringify(chart.problems));
  const form = unrollForm(chart.value, 'plain');
  if (!form.ok) throw new Error('plain is always there');
  return form.value;
}

/** One palette, so that only what a case is about can be wrong. */
const PIER_TEXT = 'title: Pier\nkey: C\nmeter: 4/4\n| Cmaj7 | % | % | % |\n';
const PIER = join(folder, 'pier.chart');
writeFileSync(PIER, PIER_TEXT);

function writeTake(name: string, events: readonly TakeEvent[], msPerQuarter = 1000): string {
  const file = join(folder, name);
  const bytes = encodeSmf(
    smfFromTake({
      take: inOrder(events),
      tempo: [{ atMs: 0, atQuarter: 0, msPerQuarter }],
      meter: { count: 4, unit: 4 },
      keyFifths: 0,
      minor: false,
      name: 'Pier',
      texts: [],
    }),
  );
  writeFileSync(file, bytes);
  return file;
}

function keys(line: string, everyMs: number, offMs = 0): readonly TakeEvent[] {
  return line
    .split(' ')
    .flatMap((name, at) => (name === '-' ? [] : key(at * everyMs + offMs, name, 80, 100)));
}

function faultsOf(report: Report): readonly string[] {
  return report.slots.map(({ faults }) => faults.join('+'));
}

const STEPS = writeTake('steps.mid', keys('C4 D4 E4 F4 E4 D4', 500));

describe('one take', () => {
  test('--json prints the report that the same events give inside', () => {
    const file = decodeSmf(readFileSync(LATE));
    if (!file.ok) throw new Error('the demo take can be read');
    const read = takeFromSmf(file.value, null);
    if (!read.ok) throw new Error('the demo take has notes');
    const settings: GradeSettings = { level: 'steps', tempo: read.value.tempo };
    const form = formFrom(readFileSync(BLUES, 'utf8'));
    expect(gradeJson(LATE, '--chart', BLUES)).toEqual(
      JSON.parse(JSON.stringify(gradeTake(form, read.value.take, settings))),
    );
  });

  test('the page names what was planted: which bars, by how many slots, and what to do', () => {
    const { out, code, err } = grade(LATE, '--chart', BLUES);
    expect([code, err]).toEqual([0, '']);
    expect(out).toContain('chorus 1, bar 7, beat 1: Bb7 → F7 (F mixolydian) late by 2 slots');
    expect(out).toContain('chorus 2, bar 7, beat 1: Bb7 → F7 (F mixolydian) late by 3 slots');
    expect(out).toContain('Hold the tempo at 60.');
    expect(out).toContain('F7 in bar 7');
  });

  test('another reading comes before any list, in words, as data and with its option', () => {
    // Every second eighth as late as in a swing of 2 : 1, over four bars at 60.
    const swung = Array.from({ length: 41 }, (_, slot) =>
      key(slot * 500 + (slot % 2 === 1 ? 500 / 3 : 0), slot % 4 < 2 ? 'C4' : 'D4', 80, 100),
    );
    const file = writeTake('swung.mid', swung.flat());
    const { out, code } = grade(file, '--chart', PIER);
    expect(code).toBe(0);
    const at = out.indexOf('You swing 2.0 : 1 where straight is set.');
    expect(at).toBeGreaterThan(0);
    expect(at).toBeLessThan(out.indexOf('Gaps'));
    expect(out).toContain('Grade by it with --swing 2.');
    expect(out).toContain('One take does not count until you choose');
    expect(gradeJson(file, '--chart', PIER).readings[0]).toMatchObject({
      kind: 'timing',
      value: { swing: 2, latencyMs: 0 },
    });
    const read = gradeJson(file, '--chart', PIER, '--swing', '2');
    expect(read.readings).toEqual([]);
    expect(read.summary.late).toBe(0);
  });

  test('without a terminal there is no colour, and no line is wider than 80 columns but sentences', () => {
    const { out } = grade(LATE, '--chart', BLUES);
    expect(out).not.toContain('\u001b');
    const wide = out.split('\n').filter((line) => line.length > 80);
    expect(wide.filter((line) => line.includes('|'))).toEqual([]);
  });

  test('--csv prints a header and one row for each slot', () => {
    const { out } = grade(STEPS, '--chart', PIER, '--csv');
    const [header, ...rows] = out.trimEnd().split('\r\n');
    expect(header).toBe(
      'file,index,chorus,bar,beat,sub,chord,palette,nominalMs,midi,name,onsetMs,deviationMs,velocity,durationMs,faults,marks,judged',
    );
    expect(rows).toHaveLength(6);
    expect(rows[3]).toContain(',3,1,1,2,1,Cmaj7,C ionian,1500,65,F4,1500,0,80,');
  });

  test('a title that looks like a formula is no formula in CSV', () => {
    const file = join(folder, '=1+1.mid');
    copyFileSync(STEPS, file);
    const run = spawnSync(process.execPath, [SCRIPT, '=1+1.mid', '--chart', PIER, '--csv'], {
      encoding: 'utf8',
      cwd: folder,
    });
    expect(run.stdout.split('\r\n')[1]).toMatch(/^'=1\+1\.mid,/);
  });
});

describe('options', () => {
  test('--level opens intervals', () => {
    const thirds = writeTake('thirds.mid', keys('C4 E4', 500));
    expect(faultsOf(gradeJson(thirds, '--chart', PIER))).toEqual(['', 'interval']);
    expect(faultsOf(gradeJson(thirds, '--chart', PIER, '--level', 'thirds'))).toEqual(['', '']);
  });

  test('without --tempo the file’s map is taken, with it a steady tempo', () => {
    const fast = writeTake('fast.mid', keys('C4 D4 E4', 250), 500);
    expect(gradeJson(fast, '--chart', PIER)).toMatchObject({ tempo: 120, summary: { clean: 3 } });
    const slow = gradeJson(fast, '--chart', PIER, '--tempo', '60');
    expect(slow).toMatchObject({ tempo: 60, slots: { length: 2 } });
  });

  test('--slots and --swing lay the grid', () => {
    const triplets = writeTake('triplets.mid', keys('C4 D4 E4 F4', 1000 / 3));
    expect(gradeJson(triplets, '--chart', PIER, '--slots', '3').summary.clean).toBe(4);
    const swung = writeTake('swung.mid', [key(0, 'C4'), key(666.7, 'D4'), key(1000, 'E4')].flat());
    expect(gradeJson(swung, '--chart', PIER, '--swing', '2').summary.clean).toBe(3);
    expect(gradeJson(swung, '--chart', PIER).summary.late).toBe(1);
  });

  test('--split takes a name or a number, leaves the left hand out of the line and judges its bass', () => {
    const both = writeTake('both.mid', [...keys('C4 D4', 500), ...key(0, 'C3')]);
    for (const split of ['C4', '60']) {
      const report = gradeJson(both, '--chart', PIER, '--split', split);
      expect(faultsOf(report)).toEqual(['', '']);
      expect(report.leftHand).toMatchObject([{ verdict: 'root', midi: 48 }]);
    }
    expect(gradeJson(both, '--chart', PIER)).toMatchObject({ splitMidi: null, leftHand: [] });
  });

  test('--latency is taken off, --tolerance replaces the rule', () => {
    const late = writeTake('lag.mid', keys('C4 D4 E4', 500, 90));
    expect(gradeJson(late, '--chart', PIER).summary.late).toBe(3);
    expect(gradeJson(late, '--chart', PIER, '--latency', '90').summary.clean).toBe(3);
    expect(gradeJson(late, '--chart', PIER, '--tolerance', '91').summary.clean).toBe(3);
    expect(gradeJson(late, '--chart', PIER, '--tolerance', '89').summary.late).toBe(3);
  });

  test('--start is the time of the first downbeat; else where the file marks it, else 0', () => {
    const pickup = writeTake('pickup.mid', [...key(-40, 'C4'), ...keys('- D4 E4', 500)]);
    expect(gradeJson(pickup, '--chart', PIER).slots[0]?.note?.deviationMs).toBeCloseTo(-40, 0);
    const shifted = gradeJson(pickup, '--chart', PIER, '--start', '3960');
    expect(shifted.slots[0]?.note?.deviationMs).toBeCloseTo(0, 0);
    expect(gradeJson(STEPS, '--chart', PIER).slots[0]?.note?.onsetMs).toBe(0);
  });

  test.each([
    ['--repeats', 'C4 C4', 'interval', []],
    ['--approach', 'C4 Db4 D4', 'outside', []],
  ])('%s allow lets pass what flag does not', (option, line, fault) => {
    const file = writeTake(`${option}.mid`, keys(line, 500));
    expect(faultsOf(gradeJson(file, '--chart', PIER, option, 'flag'))[1]).toBe(fault);
    expect(faultsOf(gradeJson(file, '--chart', PIER, option, 'allow'))[1]).toBe('');
  });

  test('--line-up and --anticipation allow let pass what flag does not', () => {
    const two = join(folder, 'two.chart');
    writeFileSync(two, 'title: Two\nkey: C\nmeter: 4/4\n| Cmaj7 Cm7 <dorian> |\n');
    const third = writeTake('third.mid', keys('C4 D4 E4 D4 F4', 500));
    expect(faultsOf(gradeJson(third, '--chart', two))[4]).toBe('');
    expect(faultsOf(gradeJson(third, '--chart', two, '--line-up', 'flag'))[4]).toBe('interval');
    const early = writeTake('early.mid', keys('C4 D4 C4 Eb4 F4', 500));
    const level = ['--chart', two, '--level', 'leaps', '--approach', 'flag'];
    expect(faultsOf(gradeJson(early, ...level))[3]).toBe('outside');
    expect(faultsOf(gradeJson(early, ...level, '--anticipation', 'allow'))[3]).toBe('');
  });

  test('--plan chooses the plan', () => {
    expect(gradeJson(LATE, '--chart', BLUES, '--plan', 'one blues scale').plan).toBe(
      'one blues scale',
    );
  });
});

describe('wrong usage ends with 2 and says what would be right', () => {
  test.each([
    ['an unknown option', [STEPS, '--chart', PIER, '--tolerence', '3'], '--tolerance'],
    ['no chart', [STEPS], '--chart'],
    ['no take', ['--chart', PIER], 'take'],
    ['a level that is none', [STEPS, '--chart', PIER, '--level', 'fourths'], 'steps, thirds'],
    ['a tempo of zero', [STEPS, '--chart', PIER, '--tempo', '0'], 'from 20 to 400'],
    ['a tempo that is no number', [STEPS, '--chart', PIER, '--tempo', 'slow'], 'from 20 to 400'],
    ['five slots', [STEPS, '--chart', PIER, '--slots', '5'], '1, 2, 3 or 4'],
    ['a key that is none', [STEPS, '--chart', PIER, '--split', 'H4'], 'C4'],
    ['a key out of range', [STEPS, '--chart', PIER, '--split', '128'], '127'],
    ['both formats', [STEPS, '--chart', PIER, '--json', '--csv'], '--csv'],
    ['an unknown plan', [LATE, '--chart', BLUES, '--plan', 'bright forth'], 'bright fourth'],
  ])('%s', (_name, args, hint) => {
    const { code, err, out } = grade(...args);
    expect([code, out]).toEqual([2, '']);
    expect(err).toContain(hint);
  });

  test('--help is right usage and lists every option', () => {
    const { code, out } = grade('--help');
    expect(code).toBe(0);
    for (const option of [
      '--chart',
      '--plan',
      '--level',
      '--tempo',
      '--slots',
      '--swing',
      '--split',
      '--latency',
      '--tolerance',
      '--start',
      '--approach',
      '--repeats',
      '--line-up',
      '--anticipation',
      '--json',
      '--csv',
    ]) {
      expect(out).toContain(option);
    }
  });
});

describe('many takes', () => {
  const many = join(folder, 'many');
  mkdirSync(many);
  const broken = join(many, 'broken.mid');
  copyFileSync(STEPS, join(many, 'b.mid'));
  copyFileSync(join(folder, 'steps.mid'), join(many, 'a.mid'));
  writeFileSync(join(many, 'notes.txt'), 'not a take');
  writeFileSync(broken, readFileSync(STEPS).subarray(0, 60));

  test('a folder is graded in order of names; a broken file is told and the rest graded', () => {
    const { code, out, err } = grade(many, '--chart', PIER);
    expect(code).toBe(3);
    expect(out).toMatch(/a\.mid[\s\S]*b\.mid/);
    expect(out).not.toContain('notes.txt');
    expect(err).toContain('1 of 3');
    expect(err).toMatch(/broken\.mid: The file is cut short.*byte \d+.*again\./);
  });

  test('--json of many is one object with a report or a problem for each', () => {
    const { code, out } = grade(many, '--chart', PIER, '--json');
    const all = JSON.parse(out);
    expect(code).toBe(3);
    expect(all.schema).toBe('linekeeper.reports/1');
    expect(all.takes.map((take: { file: string }) => take.file.slice(many.length + 1))).toEqual([
      'a.mid',
      'b.mid',
      'broken.mid',
    ]);
    expect(all.takes[0].report.summary.clean).toBe(6);
    expect(all.takes[2].problem).toContain('cut short');
  });

  test.each([
    ['a take that cannot be read', [broken, '--chart', PIER], broken],
    ['a folder without takes', [charts, '--chart', PIER], charts],
    ['a chart that cannot be read', [STEPS, '--chart', broken], broken],
  ])('--json is one object also for %s', (_, args, file) => {
    const { code, out, err } = grade(...args, '--json');
    expect(code).toBe(3);
    const { schema, takes } = JSON.parse(out);
    expect(schema).toBe('linekeeper.reports/1');
    expect(takes).toEqual([{ file, problem: expect.stringMatching(/\.$/) }]);
    expect(err).toContain(file);
  });

  test('--csv of many has one header and the file in each row', () => {
    const rows = grade(many, '--chart', PIER, '--csv').out.trimEnd().split('\r\n');
    expect(rows.filter((row) => row.startsWith('file,'))).toHaveLength(1);
    expect(rows).toHaveLength(13);
  });

  test('the worst bars over all takes come with their commonest fault', () => {
    const second = keys('C4 D4 E4 F4 E4 D4 E4 F4 G4 - G4 - G4 F4', 500);
    const worse = join(folder, 'worse');
    mkdirSync(worse);
    copyFileSync(writeTake('w.mid', second), join(worse, '1.mid'));
    copyFileSync(STEPS, join(worse, '2.mid'));
    const { out } = grade(worse, '--chart', PIER);
    // Bar 2 holds two gaps among six slots: 66 % clean.
    expect(out).toContain('bar 2 (Cmaj7): 66 % clean, most often gap');
  });

  test('takes of one tempo are judged together, the newest first', () => {
    const series = join(folder, 'series');
    mkdirSync(series);
    const whole = keys(
      Array(32)
        .fill(0)
        .map((_, at) => ['C4', 'D4', 'E4', 'D4'][at % 4])
        .join(' '),
      500,
    );
    ['old', 'middle', 'new'].forEach((name, age) => {
      const file = join(series, `${name}.mid`);
      copyFileSync(writeTake('whole.mid', whole), file);
      utimesSync(file, 1_700_000_000 + 60 * age, 1_700_000_000 + 60 * age);
    });
    // Three choruses of 32 slots, all clean: 96 of 96.
    expect(grade(series, '--chart', PIER).out).toContain('60: Raise the tempo to 62: 96 of 96');
  });
});

describe('the map', () => {
  const both = [STEPS, LATE, '--chart', BLUES, '--map'];

  test('of takes has a row for each stretch of the form, and says what is not yet told', () => {
    const { code, out } = grade(...both);
    expect(code).toBe(0);
    expect(out).toMatch(/map of 2 takes/);
    expect(out).toMatch(/^ {2}3–4 +F7 +F mixolydian +F \d+ {2}G \d+ {2}A \d+/m);
    expect(out).toMatch(/more nothing is said yet/);
  });

  test('is printed as data, counts of two takes added', () => {
    const mapOf = (...args: readonly string[]) => JSON.parse(grade(...args, '--json').out);
    const map = mapOf(...both);
    expect(map).toMatchObject({ schema: 'linekeeper.map/1', plan: 'plain', takes: 2, leftOut: 0 });
    const notes = (of: { readonly chords: readonly { readonly notes: number }[] }): number =>
      of.chords.reduce((sum, chord) => sum + chord.notes, 0);
    const [one, other] = [STEPS, LATE].map((take) => mapOf(take, '--chart', BLUES, '--map'));
    expect(notes(map)).toBe(notes(one) + notes(other));
    expect(notes(map)).toBeGreaterThan(0);
  });

  test('is no table of slots', () => {
    const { code, err } = grade(STEPS, '--chart', BLUES, '--map', '--csv');
    expect([code, err]).toEqual([2, expect.stringContaining("option '--map' cannot be used")]);
  });
});

describe('bad input ends with 3 and one clear sentence', () => {
  test.each([
    ['no such file', 'nowhere.mid', 'There is no such file'],
    ['a folder without takes', charts, 'holds no MIDI files'],
    ['a chart given as a take', BLUES, 'looks like a chart'],
  ])('%s', (_name, take, sentence) => {
    const { code, err, out } = grade(take, '--chart', PIER);
    expect([code, out]).toEqual([3, '']);
    expect(err).toContain(sentence);
  });

  test('every problem of a broken chart is told, with its place', () => {
    const chart = join(folder, 'broken.chart');
    writeFileSync(chart, 'title: X\nkey: H\nmeter: 4/4\n| Cm7 | Dmm7 |\n');
    const { code, err } = grade(STEPS, '--chart', chart);
    expect(code).toBe(3);
    expect(err).toContain('broken.chart:2:');
    expect(err).toContain('broken.chart:4:');
  });

  test.skipIf(process.platform === 'win32')('a named pipe or a device is no file', () => {
    const pipe = join(folder, 'pipe.mid');
    expect(spawnSync('mkfifo', [pipe]).status).toBe(0);
    for (const odd of [pipe, '/dev/zero']) {
      // In a program of its own, which can be ended where it waits for somebody to write.
      const asTake = gradeInProgram(odd, '--chart', PIER);
      expect([asTake.code, asTake.err]).toEqual([3, expect.stringContaining('This is no file')]);
      const asChart = gradeInProgram(STEPS, '--chart', odd);
      expect([asChart.code, asChart.err]).toEqual([3, expect.stringContaining('no ordinary file')]);
    }
  });

  test('hostile files end soon, in bounded memory', () => {
    const hostile = join(folder, 'hostile');
    mkdirSync(hostile);
    const header = [0x4d, 0x54, 0x68, 0x64, 0, 0, 0, 6, 0, 0, 0, 1, 0, 96, 0x4d, 0x54, 0x72, 0x6b];
    const running = new Uint8Array(4_000_000).fill(0x40);
    running.set([...header, 0x00, 0x3d, 0x08, 0xea, 0, 0x90]);
    writeFileSync(join(hostile, 'endless-running-status.mid'), running);
    writeFileSync(
      join(hostile, 'four-gigabytes.mid'),
      Uint8Array.of(...header, 255, 255, 255, 255),
    );
    const run = spawnSync(
      process.execPath,
      ['--max-old-space-size=512', SCRIPT, hostile, '--chart', PIER],
      // A guard against hanging; how fast it is stands in the bench.
      { encoding: 'utf8', timeout: 10_000 },
    );
    expect(run.stderr).toContain('four-gigabytes.mid: The file is cut short');
    expect(run.status).toBe(3);
  });
});

describe('notices', () => {
  test('a file in another meter than the chart is graded in the chart’s, and it is said', () => {
    const { err, code } = grade(join(demos, 'holes-in-the-waltz.mid'), '--chart', PIER);
    expect(code).toBe(0);
    expect(err).toContain('The file says 3/4, the chart 4/4');
  });

  test('a take without a note of the line says so', () => {
    const { out, code } = grade(STEPS, '--chart', PIER, '--split', 'C8');
    expect(code).toBe(0);
    expect(out).toContain('No note of the line was found.');
  });
});
