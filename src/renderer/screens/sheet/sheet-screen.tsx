/** A practice sheet for paper: the chart with its palettes, an example line for each level, the tempos to the goal. */

import './sheet.css';
import { useMemo } from 'react';
import { type Form, formatMeter } from '../../../core/chart/index.ts';
import {
  describeLineProblem,
  RIGHT_HAND_REGISTER,
  SHAPE_DENSITIES,
  USUAL_SHAPE,
  writeLine,
} from '../../../core/line/index.ts';
import { tempoPlan } from '../../../core/progress/index.ts';
import { formatKey } from '../../../core/theory/index.ts';
import { LEVELS, type Level } from '../../../core/words.ts';
import { CAUTION, LEVEL_WORDS } from '../../app/words.ts';
import { ChartPage } from '../../chart-page/chart-page.tsx';
import { withSigns } from '../../look/signs.ts';
import { WrittenStaff } from '../../notation/written-staff.tsx';

export interface SheetWish {
  readonly form: Form;
  readonly tempoBpm: number;
  readonly goalBpm: number | null;
  readonly note: string;
}

/** Without a goal the sheet goes this far, as a share of the tempo: about six steps of raise. Own choice. */
const USUAL_GOAL = 1.25;

export default function SheetScreen({
  form,
  tempoBpm,
  goalBpm,
  note,
  onBack,
}: SheetWish & { readonly onBack: () => void }) {
  const tempos = tempoPlan(tempoBpm, goalBpm ?? Math.round(tempoBpm * USUAL_GOAL));
  return (
    <>
      <div className="row on-screen">
        <button type="button" onClick={onBack}>
          ← Charts
        </button>
        <button type="button" className="main" onClick={() => window.print()}>
          Print, or save as PDF
        </button>
      </div>
      <article className="sheet">
        <h1 tabIndex={-1} data-focus-home>
          {form.title}
        </h1>
        <p>
          {withSigns(formatKey(form.key))}, {formatMeter(form.meter)}, plan {form.plan}
        </p>
        {note !== '' && <p>{note}</p>}
        <ChartPage form={form} showPalettes />
        {LEVELS.map((level) => (
          <Example key={level} form={form} level={level} />
        ))}
        <section>
          <h2>Tempos</h2>
          <p>
            Two whole choruses nearly clean, the changes on time, no bar falling behind: then the
            next.
          </p>
          <ul className="tempos">
            {tempos.map((tempo) => (
              <li key={tempo}>{tempo}</li>
            ))}
          </ul>
        </section>
        <p className="caution">{CAUTION}</p>
      </article>
    </>
  );
}

function Example({ form, level }: { readonly form: Form; readonly level: Level }) {
  const line = useMemo(
    () =>
      writeLine(form, {
        ...{ level, style: 'teaching', choruses: 1, slotsPerBeat: null, swing: 1, seed: 1 },
        ...{ direction: 0, startMidi: null, register: RIGHT_HAND_REGISTER },
        density: SHAPE_DENSITIES[USUAL_SHAPE],
      }),
    [form, level],
  );
  return (
    <section>
      <h2>{LEVEL_WORDS[level]}</h2>
      {line.ok ? (
        <WrittenStaff form={form} line={line.value} showPalettes={false} current={null} />
      ) : (
        <p>{line.problems.map(describeLineProblem).join(' ')}</p>
      )}
    </section>
  );
}
