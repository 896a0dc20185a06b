/** A melody on a staff over the chords of a form, or why it no longer belongs to its chart. */

import { useMemo } from 'react';
import type { Chart, Form } from '../../core/chart/index.ts';
import {
  describeMelodyMisfit,
  fitMelody,
  type Melody,
  melodyMeasures,
  playedBars,
  writtenOrder,
} from '../../core/melody/index.ts';
import { success } from '../../core/problem.ts';
import { withSigns } from '../look/signs.ts';
import { LineStaff } from '../notation/line-staff.tsx';

interface MelodyStaffProps {
  readonly melody: Melody;
  readonly chart: Chart;
  readonly form: Form;
  readonly bars: 'written' | 'played';
}

export default function MelodyStaff({ melody, chart, form, bars }: MelodyStaffProps) {
  const laid = useMemo(() => {
    const fitted = fitMelody(chart, melody);
    if (!fitted.ok) return fitted;
    const order = bars === 'played' ? playedBars(chart) : writtenOrder(chart);
    const measures = melodyMeasures(form, order, fitted.value);
    return success({ measures, sounds: fitted.value.sounds });
  }, [melody, chart, form, bars]);
  if (!laid.ok) {
    return <p className="notice">{laid.problems.map(describeMelodyMisfit).join('\n')}</p>;
  }
  const notes = laid.value.sounds.map(({ name }) => withSigns(name)).join(' ');
  return (
    <LineStaff
      form={form}
      measures={laid.value.measures}
      label={`Melody: ${notes}`}
      showPalettes={false}
      current={null}
    />
  );
}
