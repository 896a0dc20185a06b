/** The whole chart in another key. */

import { type Chart, parseKeyText, transposeToKey } from '../../../core/chart/index.ts';
import { formatKey } from '../../../core/theory/index.ts';
import { keysLike } from '../../app/words.ts';
import { SelectField } from '../../look/fields.tsx';
import { withSigns } from '../../look/signs.ts';

interface KeyFieldProps {
  readonly chart: Chart;
  readonly onChart: (chart: Chart) => void;
  /** Writes the key that was estimated into the chart. */
  readonly onName: (key: string) => void;
}

export function KeyField({ chart, onChart, onName }: KeyFieldProps) {
  const key = formatKey(chart.key);
  return (
    <>
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
      {!chart.keyGiven && (
        <span className="soft">
          The chart names no key; {withSigns(key)} is estimated from its chords.{' '}
          <button type="button" className="inline" onClick={() => onName(key)}>
            Write key: {withSigns(key)}
          </button>
        </span>
      )}
    </>
  );
}
