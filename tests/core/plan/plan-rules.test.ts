/**
 * The worked rules, case by case: chart text in, the plan's bars out. What each rule makes is its usual use, as
 * the rule's own `source` names it (M. Levine, The Jazz Theory Book, from memory); chords are spelled by common practice.
 */

import { describe, expect, test } from 'vitest';
import { findRulePlaces, type PlanRule } from '../../../src/core/plan/index.ts';
import { chartOf } from '../chart/reading.ts';
import { applied, barsOfPlan, PLAN, ruleOf } from './planning.ts';

type Case = readonly [key: string, bars: string, plan: string, meter?: string];

const NO_PLACE = 'no place';

/** The plan a rule makes of bars, `%` where it leaves one alone. */
function made(rule: PlanRule, key: string, bars: string, meter = '4/4'): string {
  const chart = chartOf(`title: a\nkey: ${key}\nmeter: ${meter}\n${bars}\n`);
  const changed = applied(chart, rule);
  return changed === chart ? NO_PLACE : barsOfPlan(changed).join(' | ');
}

const LD = '<lydian dominant>';

const CASES: Readonly<Record<string, readonly Case[]>> = {
  'tritone-substitute': [
    ['C', '| Dm7 | G7 | Cmaj7 | % |', `% | Db7 ${LD} | % | %`],
    // bII7 is spelled with the flat side of the key: Gb7 in F, B7 and not Cb7 in Bb, G7 and not Abb7 in Gb.
    ['F', '| Gm7 | C7 | Fmaj7 | % |', `% | Gb7 ${LD} | % | %`],
    ['Bb', '| Cm7 F7 | Bb6 |', `Cm7 B7 ${LD} | %`],
    ['Gb', '| Abm7 Db7 | Gb6 |', `Abm7 G7 ${LD} | %`],
    ['E', '| F#m7 | B13 | E6 | % |', `% | F7 ${LD} | % | %`],
    // A chain, and a chord held over a bar line: each bar of it.
    ['Bb', '| D7 | % | G7 | % |', `Ab7 ${LD} | Ab7 ${LD} | % | %`],
    // Of dominants in a row every second one gives way, the last of them first: the bass falls by semitone throughout.
    ['G', '| A7 D7 | G6 |', `A7 Ab7 ${LD} | %`, '6/8'],
    ['C', '| E7 | A7 | D7 | G7 | C6 |', `% | Eb7 ${LD} | % | Db7 ${LD} | %`],
    ['C', '| Dm7b5 | D7 G7 | C6 | % |', `% | D7 Db7 ${LD} | % | %`],
    // The tonic of a blues stays, but where IV follows at once, or where its own ii says that it is no tonic.
    ['C', '| C7 | % | F7 | % |', `% | Gb7 ${LD} | % | %`],
    ['C', '| C7 | N.C. | F7 | % |', NO_PLACE],
    ['C', '| C7 | F7 | C7 | % | G7 | F7 | C7 | G7 |', `% | % | % | % | % | % | % | Db7 ${LD}`],
    ['C', '| Gm7 | C7 | % | Fmaj7 |', `% | Gb7 ${LD} | Gb7 ${LD} | %`],
    ['F', '| C7 | % | F6 | % |', `Gb7 ${LD} | Gb7 ${LD} | % | %`],
    // It resolves over a rest; it does not where it goes elsewhere or is suspended.
    ['C', '| G7 | N.C. | C6 | % |', `Db7 ${LD} | % | % | %`],
    ['C', '| G7 | Am7 | C6 | G7sus4 |', NO_PLACE],
    ['C', '| Dm7 | G7 <altered> | C6 | % |', NO_PLACE],
  ],
  'back-door': [
    ['C', '| Dm7 | G7 | Cmaj7 | % |', `% | Bb7 ${LD} | % | %`],
    ['Eb', '| Am7 D7 | Gmaj7 |', `Am7 F7 ${LD} | %`],
    // To a dominant or to minor there is no back door.
    ['C', '| D7 | G7 | C6 | % |', `% | Bb7 ${LD} | % | %`],
    ['Am', '| Bm7b5 | E7 | Am6 | % |', NO_PLACE],
    ['C', '| Dm7 | G7 <altered> | C6 | % |', NO_PLACE],
  ],
  'minor-two': [
    ['C', '| G7 | Cmaj7 |', 'Dm7 G7 | %'],
    ['Am', '| E7 | Am6 |', 'Bm7b5 E7 | %'],
    // A dominant that goes elsewhere than a fourth up has the ii of major, even before a minor chord.
    ['C', '| Bb7 | Am7 |', 'Fm7 Bb7 | %'],
    // Odd beats go to the front, as two chords share a bar anyhow.
    ['C', '| G7 | C6 |', 'Dm7 G7 | %', '3/4'],
    ['C', '| G7 / / / C6 | F6 |', 'Dm7 G7 C6 | %', '5/4'],
    ['Bb', '| D7 | % | G7 | % | C7 | % |', 'Am7 D7 | % | Dm7 G7 | % | Gm7 C7 | %'],
    ['Cm', '| G7 <altered> | Cm6 |', 'Dm7b5 G7 <altered> | %'],
    ['Gb', '| Db7 | Gb6 |', 'Abm7 Db7 | %'],
    // Where the chart writes sharps in a flat key, so does its ii.
    ['F', '| F#7 | Bmaj7 |', 'C#m7 F#7 | %'],
    // Played after C6 and after itself: only one of the two begins a G7. After F6 or its ii: left alone.
    ['C', '|: G7 | C6 | G7 :| C6 |', '% | % | Dm7 G7 | %'],
    ['C', '|: G7 | C6 |1 Dm7 :|2 F6 |', NO_PLACE],
    // Where its palette is that of minor, its ii is that of minor too.
    ['Cm', '| Cm6 | D7 | G7alt | % |', '% | Am7b5 D7 | Dm7b5 G7alt | %'],
    ['C', '| E7 | Fmaj7 |', 'Bm7b5 E7 | %'],
    ['C', '| C7 | G7 |', '% | Dm7 G7'],
    ['C', '| C7 | F7 |', 'Gm7 C7 | Cm7 F7'],
    // Its ii is there; there is no room.
    ['C', '| Dm7 | G7 | C6 | % |', NO_PLACE],
    ['Cm', '| Dm7b5 | G7b9 | Cm6 | % |', NO_PLACE],
    ['C', '| C6 A7 G7 | C6 |', NO_PLACE, '3/4'],
  ],
  'chromatic-approach': [
    [
      'C',
      '| C6 | Am7 | Dm7 | G7 |',
      `C6 / / Bb7 ${LD} | Am7 / / Eb7 ${LD} | Dm7 / / Ab7 ${LD} | %`,
    ],
    ['F', '| Dm7 | Fmaj7 |', `Dm7 / / Gb7 ${LD} | Fmaj7 / / Eb7 ${LD}`],
    ['C', '| C6 | % | Am7 | % |', `% | C6 / / Bb7 ${LD} | % | Am7 / / Db7 ${LD}`],
    ['C', '| C6 | Am7 |', `C6 Bb7 ${LD} | Am7 Db7 ${LD}`, '6/8'],
    ['C', '| C6 <lydian> | Am7 |', `C6 <lydian> / / Bb7 ${LD} | Am7 / / Db7 ${LD}`],
    // Back to the start or on to the next part: two ways on, no approach to either. Over a rest there is none.
    ['C', '|: C6 | Am7 :| Fm7 |', `C6 / / Bb7 ${LD} | % | Fm7 / / Db7 ${LD}`],
    ['C', '| C6 | N.C. | Am7 | G7 |', `% | % | Am7 / / Ab7 ${LD} | %`],
    // A dominant a fourth below or a semitone above leads there by itself; one beat is no room.
    ['C', '| Db7 | C6 |', `% | C6 / / D7 ${LD}`],
    ['C', '| C6 Am7 Dm7 |', NO_PLACE, '3/4'],
  ],
  'chromatic-approach-below': [
    ['C', '| C6 | Am7 | Dm7 | G7 |', 'C6 / / G#dim7 | Am7 / / C#dim7 | Dm7 / / F#dim7 | %'],
    ['Ab', '| Bbm7 | Abmaj7 |', 'Bbm7 / / Gdim7 | Abmaj7 / / Adim7'],
    ['C', '| C6 Am7 Dm7 |', NO_PLACE, '3/4'],
  ],
  'chromatic-approach-both': [
    ['C', '| C6 | Am7 |', `C6 Bb7 ${LD} G#dim7 | Am7 Db7 ${LD} Bdim7`],
    ['C', '| C6 | Am7 |', `C6 Bb7 ${LD} G#dim7 | Am7 Db7 ${LD} Bdim7`, '3/4'],
    ['C', '| C6 | Am7 |', NO_PLACE, '6/8'],
  ],
  'two-five': [
    // The V of a minor key has the palette of minor, and so has its ii–V.
    ['Cm', '| Abmaj7 | G7 |', 'Abmaj7 Am7b5 D7 | G7 Bbm7 Eb7'],
    ['C', '| Abmaj7 | G7 |', 'Abmaj7 Am7 D7 | G7 Bbm7 Eb7'],
    ['Cm', '| Fm7 | Gm7 |', 'Fm7 Am7b5 D7b9 | Gm7 Gm7b5 C7b9'],
    ['F', '| F6 | Dm7 | Gm7 | C7 |', 'F6 Em7b5 A7b9 | Dm7 Am7b5 D7b9 | Gm7 Dm7 G7 | %'],
    ['C', '| C6 | Fmaj7 |', 'C6 Gm7 C7 | Fmaj7 Dm7 G7', '3/4'],
    ['Db', '| Fm7 | Gbmaj7 |', 'Fm7 Abm7 Db7 | Gbmaj7 Gm7b5 C7b9'],
    // The chord is that ii.
    ['C', '| Dm7 | Cmaj7 |', 'Dm7 / / G7 | Cmaj7 Em7b5 A7b9'],
    // A diminished chord is no tonic for a moment: Kostka and Payne, Tonal Harmony, from memory.
    ['Bb', '| Bb6 | Bdim7 | Cm7 | F7 |', '% | Bdim7 Dm7b5 G7b9 | Cm7 Gm7 C7 | %'],
    ['F', '| F6 Dm7 | Gm7 C7 |', NO_PLACE],
    ['C', '| C6 | F6 |', NO_PLACE, '6/8'],
  ],
  'secondary-dominant': [
    ['C', '| C6 | Am7 |', 'C6 E7b9 | Am7 G7'],
    ['C', '| C6 | Am7 |', 'C6 E7b9 | Am7 G7', '3/4'],
    ['C', '| C6 | F6 |', 'C6 C7 | F6 G7', '6/8'],
    ['C', '| Dm7 | % | G7 | % |', '% | Dm7 D7 | % | G7 A7b9'],
    ['Bb', '| Bb6 | Ebm6 | Bb6 | % |', 'Bb6 Bb7b9 | Ebm6 F7 | % | %'],
    ['C', '| C6 | C#dim7 | Dm7 | G7 |', '% | C#dim7 A7b9 | Dm7 D7 | %'],
    ['Bb', '| Cmaj7 | Cm7 | F7 | Bb6 |', '% | Cm7 C7 | % | Bb6 G7'],
    // The C6 of the body goes on to Am7 at once only the first time.
    ['C', '|: C6 |1 Am7 :|2 C6 | Am7 |', '% | Am7 G7 | C6 E7b9 | Am7 G7'],
    ['C', '| C6 Am7 Dm7 G7 |', NO_PLACE],
  ],
  'lydian-for-major': [
    // A tonic for a while; the tonic itself, and the IV that is lydian anyway, are left alone.
    ['Eb', '| Am7 D7 | Gmaj7 | Fm7 Bb7 | Ebmaj7 | Abmaj7 |', '% | Gmaj7 <lydian> | % | % | %'],
    ['Cm', '| Cm6 | Ebmaj7 | Dm7b5 | G7 |', '% | Ebmaj7 <lydian> | % | %'],
    // From outside the key it is lydian, after its own dominant ionian: met both ways, it is named.
    ['C', '|: Abmaj7 |1 Eb7 :|2 G7 |', 'Abmaj7 <lydian> | % | %'],
    ['C', '| Abmaj7 | G7 |', NO_PLACE],
    // A triad on the fifth degree is a dominant without its seventh.
    ['C', '| G | C |', NO_PLACE],
    ['Cm', '| Cm6 | Ebmaj7 <ionian> |', NO_PLACE],
  ],
  'lydian-for-tonic': [
    ['C', '| Cmaj7 | F6 | G7 | C6 |', 'Cmaj7 <lydian> | % | % | C6 <lydian>'],
    ['C', '| Cmaj7 | % | G7 | Cadd4 |', 'Cmaj7 <lydian> | Cmaj7 <lydian> | % | %'],
    ['C', '| C/F | G7 |', NO_PLACE],
    ['C', '| Cmaj7#11 | G7 |', NO_PLACE],
  ],
  'melodic-minor-for-tonic': [
    ['Cm', '| Cm7 | Fm7 | G7 | % |', 'Cm6 <melodic minor> | % | % | %'],
    ['Cm', '| Cm7/G | Fm7 | Dm7b5 | Cm7/Bb |', 'Cm6/G <melodic minor> | % | % | %'],
    // As ii of the F7 that follows it is no tonic; a sixth chord on the tonic is played so anyway.
    ['Cm', '| Cm7 F7 | Bbmaj7 |', NO_PLACE],
    ['Cm', '| Cm6 | G7 |', NO_PLACE],
    ['Cm', '| Cm6 <dorian> | Cm7 <aeolian> | G7 | % |', NO_PLACE],
    ['C', '| Cm7 | G7 |', NO_PLACE],
  ],
  'altered-into-minor': [
    ['Cm', '| Dm7b5 | G7 | Cm6 | C7 |', '% | G7 <altered> | % | %'],
    ['C', '| E7b9 | Am7 | G7 | C6 |', 'E7b9 <altered> | % | % | %'],
    // The altered scale has no natural thirteenth; alt is altered already.
    ['Cm', '| Dm7b5 | G13 | Cm6 | % |', NO_PLACE],
    ['Cm', '| Dm7b5 | G7alt | Cm6 | % |', NO_PLACE],
    ['Cm', '| G7 <phrygian dominant> | Cm6 |', NO_PLACE],
  ],
  'diminished-for-flat-nine': [
    // Into major it is played so anyway.
    ['C', '| A7b9 | Dm7 | G7b9 | C6 |', 'A7b9 <half-whole diminished> | % | % | %'],
    ['C', '| E7(b9,b13) | Am7 | A7 | Dm7 |', NO_PLACE],
    ['Cm', '| G7b9 <altered> | Cm6 |', NO_PLACE],
  ],
};

describe.each(Object.entries(CASES))('%s', (id, cases) => {
  const rows = cases.map(([key, bars, plan, meter = '4/4']) => ({ key, bars, plan, meter }));
  test.each(rows)('in $key, $meter, makes of $bars: $plan', ({ key, bars, plan, meter }) => {
    expect(made(ruleOf(id), key, bars, meter)).toBe(plan);
  });
});

describe('a rule', () => {
  test('looks through the repeats: where the endings go on differently, nothing leads to either', () => {
    const twoWays = '|: C6 | A7 |1 Dm7 | G7 :|2 Fm7 | Bb7 |';
    expect(made(ruleOf('tritone-substitute'), 'C', twoWays)).toBe(`% | % | % | Db7 ${LD} | % | %`);
  });

  test('takes the same chord in both endings for one, however it is written and over whatever bass', () => {
    const oneWay = '|: C6 | A7 |1 Dm7 | G7 :|2 D-7/C | Bb7 |';
    expect(made(ruleOf('tritone-substitute'), 'C', oneWay)).toBe(
      `% | Eb7 ${LD} | % | Db7 ${LD} | % | %`,
    );
  });

  test('goes through a change of meter', () => {
    const changing = '| F6 | (3/4) Dm7 | (4/4) Gm7 | C7 |';
    expect(made(ruleOf('two-five'), 'F', changing)).toBe(
      'F6 Em7b5 A7b9 | Dm7 Am7b5 D7b9 | Gm7 Dm7 G7 | %',
    );
  });

  test('changes one place alone, and is built upon what the plan has already', () => {
    const chart = chartOf('title: a\nkey: C\nmeter: 4/4\n| Dm7 G7 | C6 A7 | Dm7 G7 | C6 |\n');
    const rule = ruleOf('tritone-substitute');
    const places = findRulePlaces(chart, PLAN, rule);
    expect(places.map(({ bar, before, after }) => [bar, before, after])).toEqual([
      [0, 'Dm7 G7', `Dm7 Db7 ${LD}`],
      [1, 'C6 A7', `C6 Eb7 ${LD}`],
      [2, 'Dm7 G7', `Dm7 Db7 ${LD}`],
    ]);
    const once = applied(chart, rule, places.slice(1, 2));
    expect(barsOfPlan(once)).toEqual(['%', `C6 Eb7 ${LD}`, '%', '%']);
    const further = applied(once, ruleOf('back-door'), [{ bar: 2, chord: 1 }]);
    expect(barsOfPlan(further)).toEqual(['%', `C6 Eb7 ${LD}`, `Dm7 Bb7 ${LD}`, '%']);
  });

  test('takes from a plan what the plan says, not what the chart says', () => {
    const chart = chartOf(
      `title: a\nkey: C\nmeter: 4/4\n| C6 | G7 |\n\nplan: ${PLAN}\n| F6 | % |\n`,
    );
    const rule = ruleOf('secondary-dominant');
    expect(barsOfPlan(applied(chart, rule))).toEqual(['F6 D7', 'G7 C7']);
  });
});
