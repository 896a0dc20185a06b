/** Where it breaks, over many takes: four pictures, narrowed down as one likes; each cell leads to the takes behind it. */

import { useMemo, useState } from 'react';
import {
  HEAT_PICTURES,
  type HeatPicture,
  type HeatReply,
  type NamedPractice,
} from '../../../../shared/bridge/index.ts';
import { percent } from '../../../core/findings/index.ts';
import { DAY_MS } from '../../../core/progress/index.ts';
import { LEVELS, type Level } from '../../../core/words.ts';
import { useAnswer, useLast } from '../../data/index.ts';
import { NumberField, SelectField } from '../../look/fields.tsx';
import { HeatTable, type HeatTableCell } from '../../look/heat-table.tsx';
import { withSigns } from '../../look/signs.ts';
import { axisWords } from './heat-words.ts';

interface HeatSectionProps {
  readonly practices: readonly NamedPractice[];
  readonly onReview: (takeId: string) => void;
}

const PICTURE_WORDS: Readonly<Record<HeatPicture, string>> = {
  rulesByBars: 'faults in each bar',
  weeksByBars: 'bars from week to week',
  chordsByRoots: 'kinds of chord on each root',
  changesByLateness: 'changes, on time or late',
};

const PERIODS = [
  { value: null, words: 'all the time' },
  { value: 7, words: 'the last week' },
  { value: 30, words: 'the last 30 days' },
  { value: 90, words: 'the last 90 days' },
  { value: 365, words: 'the last year' },
] as const;

const SLOWEST_BPM = 20;
const FASTEST_BPM = 400;

export function HeatSection({ practices, onReview }: HeatSectionProps) {
  const [openedMs] = useState(Date.now);
  const [picture, setPicture] = useState<HeatPicture>('rulesByBars');
  const [chartId, setChartId] = useState<string | null>(practices[0]?.chartId ?? null);
  const [plan, setPlan] = useState<string | null>(null);
  const [key, setKey] = useState<string | null>(null);
  const [level, setLevel] = useState<Level | null>(null);
  const [days, setDays] = useState<number | null>(null);
  const [from, setFrom] = useState(SLOWEST_BPM);
  const [to, setTo] = useState(FASTEST_BPM);
  const [cell, setCell] = useState<string | null>(null);
  // Bars mean nothing over several charts.
  const ofChart =
    picture === 'chordsByRoots' ? chartId : (chartId ?? practices[0]?.chartId ?? null);
  const { value, failure } = useAnswer('progress.heat', {
    ...{ picture, plan, key, level },
    chartId: ofChart,
    tempoBpm: from === SLOWEST_BPM && to === FASTEST_BPM ? null : { from, to },
    playedAtMs: days === null ? null : { from: openedMs - days * DAY_MS, to: openedMs + DAY_MS },
  });
  // What was drawn stays, under its own name, until the next is there: else the page would jump.
  const answered = useMemo(() => value && { heat: value, of: picture }, [value, picture]);
  const drawn = useLast(answered);
  const titles = new Map(practices.map((practice) => [practice.chartId, practice.chartTitle]));
  const own = practices.filter((practice) => ofChart === null || practice.chartId === ofChart);
  const named = (what: 'plan' | 'key') => [
    { value: null, words: `every ${what}` },
    ...[...new Set(own.map((practice) => practice[what]))].map((name) => ({
      value: name,
      words: withSigns(name),
    })),
  ];

  return (
    <section aria-label="Where it breaks">
      <h2 className="below">Where it breaks</h2>
      <div className="row">
        <SelectField
          label="Picture"
          value={picture}
          options={HEAT_PICTURES.map((name) => ({ value: name, words: PICTURE_WORDS[name] }))}
          onChange={setPicture}
        />
        <SelectField
          label="Of chart"
          value={ofChart}
          options={[
            ...(picture === 'chordsByRoots' ? [{ value: null, words: 'every chart' }] : []),
            ...[...titles].map(([id, words]) => ({ value: id, words })),
          ]}
          onChange={setChartId}
        />
        <SelectField label="Plan" value={plan} options={named('plan')} onChange={setPlan} />
        <SelectField label="Key" value={key} options={named('key')} onChange={setKey} />
        <SelectField
          label="Level"
          value={level}
          options={[
            { value: null, words: 'every level' },
            ...LEVELS.map((name) => ({ value: name, words: name })),
          ]}
          onChange={setLevel}
        />
        <SelectField label="In" value={days} options={PERIODS} onChange={setDays} />
        <NumberField
          label="From tempo"
          min={SLOWEST_BPM}
          max={to}
          value={from}
          onChange={setFrom}
        />
        <NumberField label="to tempo" min={from} max={FASTEST_BPM} value={to} onChange={setTo} />
      </div>
      {failure !== null && <p className="notice">{failure}</p>}
      {drawn !== null && (
        <HeatPictureOf
          heat={drawn.heat}
          title={PICTURE_WORDS[drawn.of]}
          isShareOfRow={drawn.of === 'changesByLateness'}
          chosen={cell}
          onCell={setCell}
          onReview={onReview}
        />
      )}
    </section>
  );
}

interface HeatPictureProps {
  readonly heat: HeatReply;
  readonly title: string;
  readonly isShareOfRow: boolean;
  readonly chosen: string | null;
  readonly onCell: (name: string | null) => void;
  readonly onReview: (takeId: string) => void;
}

function HeatPictureOf({ heat, title, isShareOfRow, chosen, onCell, onReview }: HeatPictureProps) {
  const { cells, takes, uncounted, isNewestOnly } = heat;
  const { rows, columns } = axisWords(heat);
  const [row = -1, column = -1] = (chosen ?? '').split(' ').map(Number);
  const open = cells[row]?.[column];
  if (takes === 0) return <p>No take passes. Widen the choice above.</p>;
  const table = rows.map((name, rowAt) => ({
    name,
    cells: columns.map((columnName, columnAt): HeatTableCell => {
      const { hits = 0, of = 0 } = cells[rowAt]?.[columnAt] ?? {};
      const share = of === 0 ? 0 : hits / of;
      return {
        column: columnName,
        strength: of === 0 ? null : isShareOfRow ? share : Math.min(1, 2 * share),
        figure: hits === 0 ? '' : percent(share).replace(' ', ''),
        words: `${name}, ${columnName}: ${hits} of ${of}`,
        onPress: () => onCell(`${rowAt} ${columnAt}`),
        isOpen: chosen === `${rowAt} ${columnAt}`,
      };
    }),
  }));
  const hasNothing = cells.some((own) => own.some(({ of }) => of === 0));
  return (
    <>
      <HeatTable title={title} columnsAre="" columns={columns} rows={table} />
      <p className="soft">
        Drawn from {takes === 1 ? '1 take' : `${takes} takes`}
        {isNewestOnly && ', the newest; older ones are left out'}
        {uncounted > 0 && `; ${uncounted} were kept before what this needs was kept`}.
        {hasNothing && ' Hatched: nothing there to count.'}
      </p>
      {open !== undefined && open.hits > 0 && (
        <div className="row" role="status">
          <span>
            {rows[row]}, {columns[column]}: {open.hits} of {open.of}. Takes with most of it:
          </span>
          {open.takeIds.map((takeId, index) => (
            <button key={takeId} type="button" onClick={() => onReview(takeId)}>
              take {index + 1}
            </button>
          ))}
        </div>
      )}
    </>
  );
}
