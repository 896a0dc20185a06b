/** The melody of a chart, where it has one: shown when the player asks for it. */

import './melody.css';
import { lazy, Suspense, useState } from 'react';
import type { Chart, Form } from '../../core/chart/index.ts';
import { useAnswer } from '../data/index.ts';
import { CheckField } from '../look/fields.tsx';

const MelodyStaff = lazy(() => import('./melody-staff.tsx'));

interface MelodyOptionProps {
  readonly chartId: string;
  readonly chart: Chart;
  /** One of the plans of the chart, as written or as it is played. */
  readonly form: Form;
  readonly bars: 'written' | 'played';
}

export function MelodyOption({ chartId, ...over }: MelodyOptionProps) {
  const kept = useAnswer('charts.melody', { chartId });
  const [isShown, setShown] = useState(false);
  if (kept.failure !== null) return <p className="notice">{kept.failure}</p>;
  const melody = kept.value?.melody ?? null;
  if (melody === null) return null;
  return (
    <section aria-label="Melody" className="melody">
      <CheckField label="Melody" checked={isShown} onChange={setShown} />
      {isShown && (
        <Suspense fallback={<p>One moment …</p>}>
          <MelodyStaff melody={melody} {...over} />
        </Suspense>
      )}
    </section>
  );
}
