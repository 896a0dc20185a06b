/** Pickups of scores. Source: MusicXML 4.0, `measure`, attribute `implicit`; lengths worked out by hand. */

import fc from 'fast-check';
import { strToU8 } from 'fflate';
import { describe, expect, test } from 'vitest';
import { type Chart, formatChart, parseChart } from '../../../../src/core/chart/index.ts';
import {
  describeMusicXmlNotice,
  readMusicXml,
  writeMusicXml,
} from '../../../../src/core/chart/musicxml/index.ts';
import { arbitraryChart } from '../../../helpers/arbitrary-chart.ts';
import { chartOf } from '../reading.ts';

function read(xml: string) {
  const score = readMusicXml(strToU8(xml));
  if (!score.ok) throw new Error(JSON.stringify(score.problems));
  const { chart, melody, notices } = score.value;
  return { chart, melody, told: notices.map(describeMusicXmlNotice) };
}

const withoutField = (xml: string): string =>
  xml.replace(/<miscellaneous>.*?<\/miscellaneous>/su, '');

const pickupLine = (chart: Chart): string | undefined =>
  formatChart(chart)
    .split('\n')
    .find((line) => line.startsWith('pickup'));

const chartWith = (pickup: string, meter = '4/4'): Chart =>
  chartOf(`title: a\nkey: C\nmeter: ${meter}\npickup: ${pickup}\n| C | F |\n`);

describe('a pickup in a score', () => {
  test.each([
    ['1', '4/4', '24'],
    ['3/8', '4/4', '36'],
    ['2 Dm7 G7', '4/4', '48'],
    ['3/8 Dm7 G7', '4/4', '36'],
    ['3 N.C. G7', '4/4', '72'],
    // Two dotted quarters of 36.
    ['5/8 Dm7 G7', '9/8', '60'],
    ['1/8 G7', '6/8', '12'],
  ])(
    '%s in %s is a measure of that length, numbered 0, and is read back',
    (line, meter, length) => {
      const chart = chartWith(line, meter);
      const xml = writeMusicXml(chart);
      const measure = /<measure number="0" implicit="yes">.*?<\/measure>/su.exec(xml)?.[0] ?? '';
      const durations = [...measure.matchAll(/<duration>(\d+)</gu)].map(([, each]) => Number(each));
      expect(durations.reduce((sum, each) => sum + each, 0)).toBe(Number(length));
      expect(read(xml)).toEqual({ chart, melody: null, told: [] });
      // As another program would hand it on, without our own field.
      const bare = read(withoutField(xml));
      expect(pickupLine(bare.chart)).toBe(`pickup: ${line}`);
      expect(bare.told).toEqual([]);
    },
  );

  test('of every chart, by the score alone, is as long and has the same chords', () => {
    fc.assert(
      fc.property(arbitraryChart({ givenPalettes: false }), (chart) => {
        const { pickup } = read(withoutField(writeMusicXml(chart))).chart;
        const starts = (one: Chart['pickup']) =>
          one?.chords.map(({ beat, beats }) => [beat, beats]);
        expect(pickup?.eighths).toBe(chart.pickup?.eighths);
        expect(starts(pickup)).toEqual(starts(chart.pickup));
      }),
      { numRuns: 60 },
    );
  });

  test('that was changed elsewhere is believed, and told', () => {
    const xml = writeMusicXml(chartWith('2 Dm7 G7'));
    const changed = read(xml.replace('<root-step>G</root-step>', '<root-step>A</root-step>'));
    expect(pickupLine(changed.chart)).toBe('pickup: 2 Dm7 A7');
    expect(changed.told.join()).toContain('changed since');
    const gone = read(xml.replace(/<measure number="0".*?<\/measure>/su, ''));
    expect(gone.chart.pickup).toBeNull();
    expect(gone.told.join()).toContain('changed since');
  });

  test('as long as a bar, or between two eighths, is told', () => {
    const measure = (duration: number): string =>
      withoutField(writeMusicXml(chartWith('1'))).replace(
        /(<measure number="0".*?)<duration>\d+</su,
        `$1<duration>${duration}<`,
      );
    const whole = read(measure(96));
    expect(whole.chart.pickup?.eighths).toBe(7);
    expect(whole.told).toEqual([
      'Measure 0: the pickup is as long as a bar; the chart has 7 eighths of it.',
    ]);
    // Two thirds of a quarter, in triplets.
    const odd = read(measure(16));
    expect(odd.chart.pickup?.eighths).toBe(2);
    expect(odd.told).toEqual([
      'Measure 0: the pickup is no whole number of eighths; the chart has 2 of them.',
    ]);
  });

  test.each(['1', '1 G7'])('shorter than can be heard, `%s` is an eighth, told', (line) => {
    const xml = withoutField(writeMusicXml(chartWith(line)));
    const short = read(xml.replace(/<divisions>\d+</u, '<divisions>1000000000<'));
    expect(short.chart.pickup?.eighths).toBe(1);
    expect(short.told).toContain(
      'Measure 0: the pickup is no whole number of eighths; the chart has 1 of them.',
    );
    expect(parseChart(formatChart(short.chart)).ok).toBe(true);
  });
});
