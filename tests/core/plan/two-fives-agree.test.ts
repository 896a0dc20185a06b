/** A ii–V that a rule writes sounds in one key: the palettes of ii, V and the chord they lead to do not contradict each other. */

import { describe, expect, test } from 'vitest';
import { unrollForm } from '../../../src/core/chart/index.ts';
import { semitonesUp, tonePc } from '../../../src/core/theory/index.ts';
import { chartOf } from '../chart/reading.ts';
import { applied, PLAN, ruleOf } from './planning.ts';

const ROOTS = ['C', 'Db', 'D', 'Eb', 'E', 'F', 'Gb', 'G', 'Ab', 'A', 'Bb', 'B'];
const TARGETS = ['maj7', '6', 'm7', 'm6', '7', 'm7b5'];

/** The chords of the form that the rule makes of bars, each with its palette. */
function played(rule: string, key: string, bars: string) {
  const chart = applied(chartOf(`title: a\nkey: ${key}\nmeter: 4/4\n${bars}\n`), ruleOf(rule));
  const form = unrollForm(chart, PLAN);
  if (!form.ok) throw new Error(`no place in ${bars}`);
  return form.value.bars.flatMap(({ chords }) =>
    chords.flatMap(({ symbol, chosen }) =>
      symbol === null || chosen === null ? [] : [{ symbol, pcs: chosen.palette.pcs }],
    ),
  );
}

/** What goes before leads nowhere: a diminished chord a semitone above the target. */
const cases = ['C', 'Cm'].flatMap((key) =>
  ROOTS.flatMap((root, at) =>
    TARGETS.map((quality) => {
      const on = (up: number) => ROOTS[(at + up) % 12] ?? '';
      const target = root + quality;
      return { key, target, start: `${on(1)}dim7`, dominant: `${on(7)}7` };
    }),
  ),
);

describe('a ii–V before a chord', () => {
  test.each(cases)('in $key, before $target, agrees in the fifth of its ii', (place) => {
    const { key, target, start } = place;
    const bars = `| ${start} | ${target} | N.C. | ${start} |`;
    const [, two, five, to] = played('two-five', key, bars);
    if (two === undefined || five === undefined || to === undefined) throw new Error('no ii–V');
    expect([semitonesUp(two.symbol.root, five.symbol.root), to.symbol.text]).toEqual([5, target]);
    const fifth = two.symbol.tones.find(({ degree }) => degree === 5)?.interval ?? 0;
    expect(five.pcs).toContain(tonePc(two.symbol.root + fifth));
  });
});

describe('a minor ii before the dominant', () => {
  test.each(cases)('in $key, where $dominant leads to $target, agrees in its fifth', (place) => {
    const { key, target, start, dominant } = place;
    const bars = `| ${start} | ${dominant} | ${target} | % |`;
    const [, two, five] = played('minor-two', key, bars);
    if (two === undefined || five === undefined) throw new Error('no ii');
    const fifth = two.symbol.tones.find(({ degree }) => degree === 5)?.interval ?? 0;
    expect(five.pcs).toContain(tonePc(two.symbol.root + fifth));
  });
});

test('a ii–V into the minor v keeps its notes there', () => {
  const [, two, five, to] = played('two-five', 'Cm', '| F#dim7 | Gm7 | N.C. | F#dim7 |');
  const missing = two?.pcs.filter((pc) => !to?.pcs.includes(pc));
  expect([two, five, to].map((one) => one?.symbol.text)).toEqual(['Am7b5', 'D7b9', 'Gm7']);
  expect(missing).toEqual([]);
});
