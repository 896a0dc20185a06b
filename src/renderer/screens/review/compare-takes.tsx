/** This take beside another of the same chart: the figures, and bar by bar which was cleaner. */

import '../../look/figure-table.css';
import { useMemo, useState } from 'react';
import type { TakeRecord } from '../../../../shared/bridge/index.ts';
import { cleanRates, ms, percent } from '../../../core/findings/index.ts';
import type { Report } from '../../../core/grading/index.ts';
import { describeTake } from '../../app/take-words.ts';
import { useAnswer } from '../../data/index.ts';
import { SelectField } from '../../look/fields.tsx';
import { readRecord } from '../../prepare/read-record.ts';

interface CompareTakesProps {
  readonly record: TakeRecord;
  readonly report: Report;
}

const MOST_TAKES = 50;

export function CompareTakes({ record, report }: CompareTakesProps) {
  const { takeId, setUp } = record.row;
  const takes = useAnswer('takes.list', { chartId: setUp.chartId, limit: MOST_TAKES });
  const [picked, setPicked] = useState<string | null>(null);
  const others = takes.value?.filter((take) => take.takeId !== takeId) ?? [];
  if (others.length === 0) return null;
  return (
    <section className="compare">
      <h2>Beside another take</h2>
      <SelectField
        label="Compare with"
        value={picked}
        options={[
          { value: null, words: 'no other take' },
          ...others.map((take, index) => ({
            value: take.takeId,
            words: `${index + 1}. ${describeTake(take)}`,
          })),
        ]}
        onChange={setPicked}
      />
      {picked !== null && <Beside key={picked} takeId={picked} report={report} />}
    </section>
  );
}

function Beside({ takeId, report }: { readonly takeId: string; readonly report: Report }) {
  const other = useAnswer('takes.get', { takeId });
  const graded = useMemo(() => {
    if (other.value === null) return null;
    const read = readRecord(other.value);
    return read.ok ? read.value.report : null;
  }, [other.value]);
  if (other.failure !== null) return <p className="notice">{other.failure}</p>;
  if (graded === null) return <p>One moment …</p>;
  return (
    <>
      <table className="figure-table">
        <thead>
          <tr>
            <th scope="col">figure</th>
            <th scope="col">this take</th>
            <th scope="col">the other</th>
          </tr>
        </thead>
        <tbody>
          {FIGURES.map(({ words, of }) => (
            <tr key={words}>
              <th scope="row">{words}</th>
              <td>{of(report)}</td>
              <td>{of(graded)}</td>
            </tr>
          ))}
        </tbody>
      </table>
      <p>{barsInWords(report, graded)}</p>
    </>
  );
}

const FIGURES: readonly { readonly words: string; readonly of: (report: Report) => string }[] = [
  { words: 'tempo', of: ({ tempo }) => String(tempo) },
  { words: 'level', of: ({ level }) => level },
  {
    words: 'clean',
    of: ({ summary }) =>
      summary.cleanRate === null
        ? '–'
        : `${summary.clean} of ${summary.slots} (${percent(summary.cleanRate)})`,
  },
  {
    words: 'changes on time',
    of: ({ summary: { changes } }) => `${changes.onTime} of ${changes.counted}`,
  },
  { words: 'gaps', of: ({ summary }) => String(summary.gap) },
  { words: 'outside', of: ({ summary }) => String(summary.outside) },
  { words: 'intervals', of: ({ summary }) => String(summary.interval) },
  {
    words: 'spread of timing',
    of: ({ summary: { timing } }) => (timing.sdMs === null ? '–' : ms(timing.sdMs)),
  },
];

/** A bar differs when its clean rate does by more than this: one slot of eight. */
const DIFFERENCE = 0.12;

/** `Bars 3, 7 were cleaner here, bar 5 there.` */
export function barsInWords(here: Report, there: Report): string {
  const theirs = cleanRates(there.bars);
  const better: number[] = [];
  const worse: number[] = [];
  for (const [bar, rate] of cleanRates(here.bars)) {
    const other = theirs.get(bar);
    if (other === undefined) continue;
    if (rate - other > DIFFERENCE) better.push(bar);
    if (other - rate > DIFFERENCE) worse.push(bar);
  }
  if (better.length + worse.length === 0)
    return 'No bar was clearly cleaner in one than in the other.';
  const list = (bars: readonly number[]): string =>
    `${bars.length === 1 ? 'bar' : 'bars'} ${bars.join(', ')}`;
  const parts = [
    ...(better.length > 0 ? [`cleaner here: ${list(better)}`] : []),
    ...(worse.length > 0 ? [`cleaner in the other: ${list(worse)}`] : []),
  ];
  return `${parts.join('; ')}.`.replace(/^c/, 'C');
}
