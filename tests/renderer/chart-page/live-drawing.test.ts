/** The drawing that grows while a line is played is the drawing of all of it. */

import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { ReportChange, ReportSlot } from '../../../src/core/grading/index.ts';
import { createLiveGrader, type HeardNote } from '../../../src/core/grading/index.ts';
import { drawChorus, layLine, registerFor } from '../../../src/renderer/chart-page/line-model.ts';
import { createLiveDrawing } from '../../../src/renderer/chart-page/live-drawing.ts';
import { anyForm, anySettings, anyTake } from '../../helpers/arbitrary-take.ts';

test('after every event the page is the one drawn from scratch, and bars that did not change are the same objects', () => {
  fc.assert(
    fc.property(anyForm, anySettings, anyTake, (form, settings, take) => {
      const layout = layLine(form, { slotsPerBeat: null, ...settings });
      const draw = createLiveDrawing(layout);
      const settled: ReportSlot[] = [];
      const changes: ReportChange[] = [];
      const heard = new Map<number, HeardNote>();
      const grader = createLiveGrader(form, settings, {
        heard: (note) => void heard.set(note.slot, note),
        settled(slot) {
          settled.push(slot);
          heard.delete(slot.index);
        },
        changed: (change) => void changes.push(change),
      });
      const midis: number[] = [];
      for (const event of take.events) {
        grader.take(event);
        grader.advance(event.atMs);
        const chorus = settled.at(-1)?.chorus ?? 1;
        const before = draw({ settled, heard, changes }, chorus);
        const again = draw({ settled, heard, changes }, chorus);
        for (const [bar, drawing] of before) {
          const isOpen = [...heard.values()].length > 0;
          if (!isOpen) expect(again.get(bar)).toBe(drawing);
        }
        for (const { midi } of heard.values()) midis.push(midi);
        for (const { note } of settled) if (note !== null) midis.push(note.midi);
        const source = { layout, settled, heard, changes };
        const whole = drawChorus(source, chorus, registerFor(midis));
        expect([...again.values()]).toEqual(whole);
      }
    }),
    { numRuns: 60 },
  );
});
