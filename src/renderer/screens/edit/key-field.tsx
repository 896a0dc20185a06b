/** The whole chart in another key. */

import { type Chart, parseKeyText, transposeToKey } from '../../../core/chart/index.ts';
import { formatKey } from '../../../core/theory/index.ts';
import { keysLike } from '../../app/words.ts';
import { SelectField } from '../../look/fields.tsx';
import { withSigns } from '../../look/signs.ts';

interface KeyFieldProps {
  readonly chart: Chart;
  readonly onChart: (chart: Chart) => void;
}

export function KeyField({ chart, onChart }: KeyFieldProps) {
  const key = formatKey(chart.key);
  return (
    <SelectField
      label="Transpose the chart to"
      value={key}
      options={keysLike(key).map((name) => ({ value: name, words: withSigns(name) }))}
      onChange={(name) => {
        const wanted = parseKeyText(name);
        const moved = wanted.ok ? transposeToKey(chart, wanted.value) : wanted;
        if (moved.ok) onChart(moved.value);
      }}
    />
  );
}
