/** The starter charts, and the demo takes with what is planted in them. Data of our own; expectations from the plant. */

import { execFileSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { DEMO_TAKES } from '../../scripts/demo/takes.data.ts';
import {
  type Form,
  formatMeter,
  parseChart,
  planNames,
  unrollForm,
} from '../../src/core/chart/index.ts';
import { gradeTake, type Report } from '../../src/core/grading/index.ts';
import { decodeSmf, takeFromSmf } from '../../src/core/take/smf/index.ts';
import { chordPcs } from '../../src/core/theory/index.ts';

const shared = join(import.meta.dirname, '..', '..', 'shared');
const chartFiles = readdirSync(join(shared, 'charts'));

function chartOf(file: string) {
  const chart = parseChart(readFileSync(join(shared, 'charts', file), 'utf8'));
  if (!chart.ok) throw new Error(`${file}: ${JSON.stringify(chart.problems)}`);
  return chart.value;
}

function formOf(file: string, plan: string): Form {
  const form = unrollForm(chartOf(file), plan);
  if (!form.ok) throw new Error(`${file} has no plan ${plan}`);
  return form.value;
}

describe('starter charts', () => {
  test('are at least fourteen, in every kind of form and meter a player meets first', () => {
    expect(chartFiles.length).toBeGreaterThanOrEqual(14);
    const forms = chartFiles.map((file) => formOf(file, 'plain'));
    const meters = new Set(forms.map(({ meter }) => formatMeter(meter)));
    expect([...meters]).toEqual(expect.arrayContaining(['4/4', '3/4', '5/4', '6/8', '12/8']));
    expect(forms.filter(({ bars }) => bars.length === 12).length).toBeGreaterThanOrEqual(3);
    expect(forms.filter(({ bars }) => bars.length === 32).length).toBeGreaterThanOrEqual(2);
    const tonics = new Set(
      formOf('twelve-lamps.chart', 'plain').bars.flatMap(({ chords }) =>
        chords.flatMap(({ symbol }) => (symbol?.family === 'major' ? [symbol.root % 12] : [])),
      ),
    );
    expect(tonics.size).toBe(12);
  });

  describe.each(chartFiles)('%s', (file) => {
    const chart = chartOf(file);

    test('has a slow tempo, a note on what it trains and at least one further plan', () => {
      expect(chart.tempoBpm).toBeGreaterThanOrEqual(50);
      expect(chart.tempoBpm).toBeLessThanOrEqual(84);
      expect(chart.plans.length).toBeGreaterThanOrEqual(1);
      if (file !== 'lantern-walk.chart') {
        expect(chart.headers.map(({ name }) => name)).toContain('note');
      }
    });

    test('every plan unrolls, and the chosen palettes hold their chords’ tones', () => {
      for (const plan of planNames(chart)) {
        for (const { chords, bar } of formOf(file, plan).bars) {
          for (const { symbol, chosen } of chords) {
            if (symbol === null || chosen === null || chosen.given) continue;
            // The altered scale has no perfect fifth: the one documented exception.
            const missing = chordPcs(symbol).filter((pc) => !chosen.palette.pcs.includes(pc));
            const fifth = (chordPcs(symbol)[0] ?? 0) + 7;
            const excused = chosen.palette.name === 'altered' ? [fifth % 12] : [];
            expect([bar, symbol.text, missing.filter((pc) => !excused.includes(pc))]).toEqual([
              bar,
              symbol.text,
              [],
            ]);
          }
        }
      }
    });
  });
});

function gradeDemo(demo: (typeof DEMO_TAKES)[number]): Report {
  const file = decodeSmf(readFileSync(join(shared, 'demo-takes', demo.file)));
  if (!file.ok) throw new Error(demo.file);
  const read = takeFromSmf(file.value, null);
  if (!read.ok) throw new Error(demo.file);
  return gradeTake(formOf(`${demo.chart}.chart`, demo.plan), read.value.take, {
    level: demo.level,
    tempo: { kind: 'steady', tempoBpm: demo.tempoBpm },
    splitMidi: demo.splitMidi,
    leftHand: demo.splitMidi !== null,
  });
}

describe('demo takes', () => {
  test('are written again byte for byte', () => {
    const folder = mkdtempSync(join(tmpdir(), 'demo-takes-'));
    const script = join(import.meta.dirname, '..', '..', 'scripts', 'write-demo-takes.ts');
    execFileSync(process.execPath, [script, '--to', folder]);
    const names = readdirSync(folder).sort();
    expect(names).toEqual(readdirSync(join(shared, 'demo-takes')).sort());
    for (const name of names) {
      expect(readFileSync(join(folder, name))).toEqual(
        readFileSync(join(shared, 'demo-takes', name)),
      );
    }
  });

  describe.each(DEMO_TAKES)('$file', (demo) => {
    const report = gradeDemo(demo);
    const places = new Map(report.slots.map((slot) => [placeKey(slot), slot] as const));
    const planted = (kind: string) => demo.planted.filter((fault) => fault.kind === kind);

    test('every slot is clean but those a fault was planted in', () => {
      const faulty = report.slots.filter(({ faults }) => faults.length > 0);
      const expected = new Map<string, string>();
      for (const fault of demo.planted) {
        const key = `${fault.at.chorus}:${fault.at.bar}:${fault.at.beat}:${fault.at.sub}`;
        if (fault.kind === 'gap') expected.set(key, 'gap');
        if (fault.kind === 'third') expected.set(key, 'interval');
        if (fault.kind === 'outside') expected.set(key, 'outside');
        if (fault.kind === 'double') expected.set(key, 'extra');
        if (fault.kind === 'hesitation') expected.set(key, 'late');
      }
      // A palette that hangs on makes its own tones outside: judged below by their number of slots.
      const lateSlots = new Set(
        demo.planted.flatMap((fault) => {
          if (fault.kind !== 'lateChange') return [];
          const start = places.get(placeKey({ ...fault.at }))?.index ?? -1;
          return Array.from({ length: fault.bySlots }, (_, after) => start + after);
        }),
      );
      const found = new Map(
        faulty
          .filter(({ index }) => !lateSlots.has(index))
          .map((slot) => [placeKey(slot), slot.faults.join('+')]),
      );
      expect(found).toEqual(expected);
      for (const slot of faulty.filter(({ index }) => lateSlots.has(index))) {
        expect(slot.faults).toEqual(['outside']);
      }
    });

    test('every change is on time but those that were planted', () => {
      const notOnTime = report.changes
        .filter(({ arrival }) => arrival === 'late' || arrival === 'unproven')
        .map(({ chorus, bar, beat, arrival, bySlots }) => [chorus, bar, beat, arrival, bySlots]);
      const expected = demo.planted.flatMap((fault) => {
        const { chorus, bar, beat } = fault.at;
        if (fault.kind === 'lateChange') return [[chorus, bar, beat, 'late', fault.bySlots]];
        return fault.kind === 'commonTonesOnly' ? [[chorus, bar, beat, 'unproven', null]] : [];
      });
      if (demo.level !== 'free') expect(notOnTime).toEqual(expected);
      expect(report.summary.changes.late).toBe(planted('lateChange').length);
    });

    test('every bass note is the root but those that were planted', () => {
      const wrong = report.leftHand
        .filter(({ verdict }) => verdict !== 'root')
        .map(({ chorus, bar, beat, verdict }) => [chorus, bar, beat, verdict]);
      expect(wrong).toEqual(
        demo.planted.flatMap((fault) => {
          const { chorus, bar, beat } = fault.at;
          if (fault.kind === 'bassMissing') return [[chorus, bar, beat, 'missing']];
          return fault.kind === 'bassOther' ? [[chorus, bar, beat, 'other']] : [];
        }),
      );
    });

    test('the timing is the one it was played with', () => {
      const { timing } = report.summary;
      expect(Math.abs((timing.slopeMsPerBar ?? 0) - demo.dragMsPerBar)).toBeLessThan(0.5);
      if (demo.level === 'free') return;
      // The hesitation and the drag widen the spread; four standard errors of the mean are allowed.
      const meanMs = demo.lagMs + (demo.dragMsPerBar * report.bars.length) / 2;
      const errorMs = (4 * (timing.sdMs ?? 0)) / Math.sqrt(report.slots.length);
      expect(Math.abs((timing.meanMs ?? 0) - meanMs)).toBeLessThan(errorMs);
    });
  });
});

function placeKey({
  chorus,
  bar,
  beat,
  sub,
}: {
  readonly chorus: number;
  readonly bar: number;
  readonly beat: number;
  readonly sub: number;
}): string {
  return `${chorus}:${bar}:${beat}:${sub}`;
}
