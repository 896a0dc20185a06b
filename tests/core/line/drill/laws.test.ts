/** What holds for every drill over random charts, by the word of the grader. */

import { describe, expect, test } from 'vitest';
import { DRILLS, writeDrill } from '../../../../src/core/line/index.ts';
import { LEVELS } from '../../../../src/core/words.ts';
import { ANY, CASES, drillAll, forEveryDrill, ROOMY } from './drilled.ts';
import { gradeDrill } from './drilling.ts';

describe(`over ${2 * CASES} random charts, plans, meters and registers`, () => {
  test.each(DRILLS.map(({ style, level }) => [style, level] as const))(
    '%s is clean at its level, not at a lower one from %s up, and keeps to the register',
    (style, own) => {
      forEveryDrill(style, ({ form, wish, line, midis }) => {
        const report = gradeDrill(form, line);
        expect(report.slots.flatMap(({ faults }) => faults)).toEqual([]);
        expect(report.extras).toEqual([]);
        expect(report.summary.slots).toBe(midis.length);
        expect(report.summary.unplayed).toBe(0);
        expect(line.notes.map(({ name }) => name)).toEqual(
          report.slots.map(({ note }) => note?.name),
        );
        for (const level of LEVELS.slice(LEVELS.indexOf(own), LEVELS.indexOf(line.level))) {
          expect(gradeDrill(form, line, level).summary.clean).toBeLessThan(midis.length);
        }
        for (const midi of midis) {
          expect(midi).toBeGreaterThanOrEqual(wish.register.lowestMidi);
          expect(midi).toBeLessThanOrEqual(wish.register.highestMidi);
        }
        expect(writeDrill(form, style, wish)).toEqual({ ok: true, value: line });
      });
    },
  );

  test.each(DRILLS.map(({ style, varies }) => [style, varies] as const))(
    '%s: that other seeds give other notes is %s',
    (style, varies) => {
      let differs = false;
      forEveryDrill(style, ({ form, wish, midis }) => {
        const other = writeDrill(form, style, { ...wish, seed: wish.seed + 1 });
        differs ||= !other.ok || other.value.notes.some(({ midi }, slot) => midi !== midis[slot]);
      });
      expect(differs).toBe(varies);
    },
  );

  test.each(DRILLS.map(({ style }) => style))(
    '%s: where there is none, the place is told',
    (style) => {
      const any = drillAll(ANY, style);
      expect(any.written.length).toBeGreaterThan(0);
      expect(any.problems.map(({ code }) => code)).toEqual(any.problems.map(() => 'drill'));
      // With room, and palettes that hold their chords, nothing is in the way but bars without a chord.
      const { problems } = drillAll(ROOMY, style);
      const rules = problems.map((problem) =>
        problem.code === 'drill' ? problem.rule : problem.code,
      );
      expect(rules).toEqual(problems.map(() => 'noChord'));
    },
  );
});
