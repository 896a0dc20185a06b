/** A written line on a staff. */

import { useMemo } from 'react';
import type { Form } from '../../core/chart/index.ts';
import type { WrittenLine } from '../../core/line/index.ts';
import { lineMeasures } from '../../core/score/index.ts';
import { withSigns } from '../look/signs.ts';
import { LineStaff } from './line-staff.tsx';

interface WrittenStaffProps {
  readonly form: Form;
  readonly line: WrittenLine;
  readonly showPalettes: boolean;
  /** Index of the bar that sounds, through all choruses, or null. */
  readonly current: number | null;
}

export function WrittenStaff({ form, line, ...shown }: WrittenStaffProps) {
  const measures = useMemo(() => lineMeasures(form, line), [form, line]);
  const { notes: own, closing } = line;
  const sounds = closing === null ? own : [...own, closing];
  const notes = sounds.map(({ name }) => withSigns(name)).join(' ');
  return (
    <LineStaff
      form={form}
      measures={measures}
      label={`Line: ${notes}`}
      swing={line.swing}
      {...shown}
    />
  );
}
