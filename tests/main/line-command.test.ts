/** The line command: what it prints and saves, and what it says of wrong usage and of charts without a line. */

import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { z } from 'zod';
import { parseChart, unrollForm } from '../../src/core/chart/index.ts';
import { gradeTake } from '../../src/core/grading/index.ts';
import { decodeSmf, takeFromSmf } from '../../src/core/take/smf/index.ts';
import { LANTERN_WALK } from '../core/chart/example.ts';
import { lineHere as line } from '../helpers/command-here.ts';

let folder = '';
let lantern = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'line-command-'));
  lantern = file('lantern.chart', LANTERN_WALK);
});
afterAll(() => rmSync(folder, { recursive: true, force: true }));

function file(name: string, content: string): string {
  const path = join(folder, name);
  writeFileSync(path, content);
  return path;
}

const slotSchema = z.object({
  ...{ index: z.int(), chorus: z.int(), bar: z.int(), beat: z.int(), sub: z.int() },
  ...{ chord: z.string(), palette: z.string().nullable(), midi: z.int(), name: z.string() },
  ...{ onsetBeats: z.number(), durationBeats: z.number() },
});
const lineSchema = z.object({
  schema: z.literal('linekeeper.line/1'),
  ...{ chart: z.string(), plan: z.string(), key: z.string(), level: z.string() },
  style: z.string().nullable(),
  ...{ shape: z.number().nullable(), drill: z.string().nullable(), seed: z.int() },
  slots: z.array(slotSchema),
});

const json = (...args: readonly string[]) =>
  lineSchema.parse(JSON.parse(line(lantern, '--json', ...args).out));

const closingOf = (...args: readonly string[]) =>
  z
    .object({ closing: z.object({ name: z.string(), chord: z.string(), onsetBeats: z.number() }) })
    .parse(JSON.parse(line(lantern, '--json', ...args).out)).closing;

describe('the line command', () => {
  it('closes a line on the downbeat after its last bar, as data and below the last row', () => {
    const { name, chord, onsetBeats } = closingOf('--bars', '1-2');
    expect([chord, onsetBeats]).toEqual(['Dm7b5', 8]);
    expect(line(lantern, '--bars', '1-2').out).toMatch(
      new RegExp(`\\nclosing ${name} over Dm7b5\\n$`, 'u'),
    );
  });

  it('prints bars with their chords, and the names of the notes below', () => {
    const { code, out, err } = line(lantern, '--seed', '7');
    expect({ code, err }).toEqual({ code: 0, err: '' });
    expect(out).toMatch(
      /^Lantern Walk\nkey Bb · 4\/4 · plan plain · line at steps, for teaching · seed 7\n/u,
    );
    const rows = out.split('\n').filter((row) => row.includes('|'));
    expect(rows.filter((row) => /^ +\d+ \|/u.test(row)).join('')).toMatch(
      /1 \| Bbmaj7 +\| Cm7 +F7 +\|.*7 \| Cm7 +F7 +\| Bb6 +F7 +\|/u,
    );
    const names = rows.filter((row) => /^ {6}\|/u.test(row)).join(' ');
    expect(names.match(/[A-G][b#]?\d/gu)).toEqual(json('--seed', '7').slots.map((s) => s.name));
  });

  it('gives every slot its place, chord, palette and key', () => {
    const { slots, ...head } = json('--level', 'thirds', '--bars', '2-3', '--from', 'C5');
    expect(head).toMatchObject({ chart: 'Lantern Walk', plan: 'plain', level: 'thirds', seed: 1 });
    expect(slots).toHaveLength(16);
    expect(slots[0]).toMatchObject({
      ...{ index: 0, chorus: 1, bar: 2, beat: 1, sub: 0, midi: 72, name: 'C5', onsetBeats: 0 },
      ...{ chord: 'Cm7', palette: 'C dorian' },
    });
    expect(slots[5]).toMatchObject({ bar: 2, beat: 3, sub: 1, chord: 'F7', onsetBeats: 2.5 });
  });

  it('keeps to the plan, the key, the register, the choruses and the shape', () => {
    const low = 50;
    const high = 66;
    const { slots, key, shape } = json(
      ...['--plan', 'side door', '--key', 'C', '--low', 'D3', '--high', '66'],
      ...['--choruses', '2', '--shape', 'arpeggios', '--level', 'leaps'],
    );
    expect({ key, shape, notes: slots.length }).toEqual({ key: 'C', shape: 2 / 3, notes: 128 });
    expect(slots[12]).toMatchObject({ chord: 'C#7', palette: 'C# lydian dominant' });
    expect(slots.at(-1)).toMatchObject({ chorus: 2, bar: 8 });
    expect(slots.filter(({ midi }) => midi < low || midi > high)).toEqual([]);
  });

  it('writes lines as solos go when it is asked to, as data and on the page', () => {
    const asked = ['--level', 'leaps', '--style', 'solo'];
    expect(json(...asked).style).toBe('solo');
    expect(json().style).toBe('teaching');
    expect(json(...asked).slots).not.toEqual(json('--level', 'leaps').slots);
    expect(line(lantern, ...asked).out).toContain(' · line at leaps, as solos go · ');
  });

  it('writes drills, with their own names and levels', () => {
    const { drill, level, shape } = json('--drill', 'broken-sevenths');
    expect({ drill, level, shape }).toEqual({
      ...{ drill: 'brokenSevenths', level: 'leaps', shape: null },
    });
    expect(line(lantern, '--drill', 'guide-tones').out).toContain(' · guide-tone line · ');
  });

  it('gives the same line for the same seed, and another for another', () => {
    const midis = (seed: string) => json('--seed', seed).slots.map(({ midi }) => midi);
    expect(midis('3')).toEqual(midis('3'));
    expect(midis('4')).not.toEqual(midis('3'));
  });

  it('saves a MIDI file that grades clean, and a score; neither over a file that is there', () => {
    const midi = join(folder, 'line.mid');
    expect(line(lantern, '--level', 'thirds', '--midi', midi)).toEqual({
      ...{ code: 0, out: '', err: '' },
    });
    const bytes = readFileSync(midi);
    const smf = decodeSmf(bytes);
    const take = smf.ok ? takeFromSmf(smf.value, null) : smf;
    const chart = parseChart(LANTERN_WALK);
    const form = chart.ok ? unrollForm(chart.value, 'plain') : chart;
    if (!take.ok || !form.ok) throw new Error('not read');
    const { tempo } = take.value;
    const { summary } = gradeTake(form.value, take.value.take, { level: 'thirds', tempo });
    expect([summary.slots, summary.clean]).toEqual([64, 64]);

    const again = line(lantern, '--midi', midi);
    expect(again.code).toBe(2);
    expect(again.err).toContain('Give another name');
    expect(readFileSync(midi)).toEqual(bytes);

    const score = join(folder, 'line.musicxml');
    expect(line(lantern, '--musicxml', score).code).toBe(0);
    expect(readFileSync(score, 'utf8')).toContain('<score-partwise version="4.0">');
    expect(line(lantern, '--midi', join(folder, 'no', 'where.mid')).err).toContain('ENOENT');
  });

  it.each([
    ['no file', [], /argument/u],
    ['an unknown level', ['x', '--level', 'jumps'], /steps/u],
    ['a shape that is none, with the nearest', ['x', '--shape', 'scale'], /Nearest: scales/u],
    ['a shape out of range', ['x', '--shape', '1.5'], /0 to 1/u],
    ['a drill that is none, with the nearest', ['x', '--drill', 'enclosure'], /enclosures/u],
    ['no number of choruses', ['x', '--choruses', '0'], /whole number/u],
    ['no key', ['x', '--from', 'H4'], /Bb3/u],
    ['no bars', ['x', '--bars', '8-5'], /5-8/u],
    ['a register upside down', ['x', '--low', 'C6', '--high', 'C4'], /--high/u],
    ['two outputs', ['x', '--json', '--midi', 'y'], /cannot be used with/u],
    ['a style for a drill', ['x', '--drill', 'enclosures', '--style', 'solo'], /--style/u],
    ['a level for a drill', ['x', '--drill', 'enclosures', '--level', 'steps'], /--level/u],
  ])('%s is wrong usage: 2', (_, args, hint) => {
    const { code, out, err } = line(...args);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err).toMatch(hint);
  });

  it('tells bars beyond the form', () => {
    const { code, err } = line(lantern, '--bars', '7-9');
    expect(code).toBe(2);
    expect(err).toContain('bars 1 to 8');
  });

  it('says why there is no line, and of a chart what is wrong: 3', () => {
    const narrow = [lantern, '--low', 'B4', '--high', 'B4'];
    const none = line(...narrow);
    expect({ code: none.code, out: none.out }).toEqual({ code: 3, out: '' });
    expect(none.err).toMatch(/^Chorus 1, bar 1, beat 1 \(Bbmaj7\): no key of /u);
    expect(JSON.parse(line(...narrow, '--json').out)).toEqual({
      ...{ schema: 'linekeeper.line/1', slots: [], errors: [] },
      noLine: none.err.trim(),
    });
    const broken = file('broken.chart', 'title: a\nkey: C\nmeter: 4/4\n| Qm7 |\n');
    expect(line(broken)).toMatchObject({ code: 3, out: '' });
    expect(line(broken).err).toContain('broken.chart:4:3');
    const errors = JSON.parse(line(broken, '--json').out).errors;
    expect(errors).toMatchObject([{ line: 4, column: 3, read: 'Qm7' }]);
  });
});
