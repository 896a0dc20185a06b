/** What was played on a chart, and the demo takes. */

import type { Bridge, CallReply, TakeRow } from '../../../../shared/bridge/index.ts';
import { useCall } from '../../app/use-call.ts';

interface TakeListProps {
  readonly bridge: Bridge;
  readonly chartId: string;
  readonly onReview: (takeId: string) => void;
}

const WHEN = new Intl.DateTimeFormat(undefined, { dateStyle: 'medium', timeStyle: 'short' });

/** When it was played and how it went, in one line. */
export function describeTake({ setUp, figures, startedAtMs, state }: TakeRow): string {
  const { tempo, level } = setUp.grade;
  const at = tempo.kind === 'steady' ? ` at ${Math.round(tempo.tempoBpm)}` : '';
  const clean = figures === null ? '' : `, ${figures.clean} of ${figures.slots} clean`;
  const rescued =
    state === 'recoverable' ? ' (recovered: the program ended while it was played)' : '';
  return `${WHEN.format(startedAtMs)}: ${level}${at}, plan ${setUp.plan}, in ${setUp.key}${clean}${rescued}`;
}

export function TakeList({ bridge, chartId, onReview }: TakeListProps) {
  const takes = useCall(bridge, 'takes.list', { chartId, limit: 50 });
  if (takes.failure !== null) return <p className="notice">{takes.failure}</p>;
  if (takes.value?.length === 0) {
    return <p className="soft">None yet. Play a chorus, or open a recording of one.</p>;
  }
  return (
    <ul className="plain-list">
      {takes.value?.map((take) => (
        <li key={take.takeId}>
          <button type="button" onClick={() => onReview(take.takeId)}>
            {describeTake(take)}
          </button>
        </li>
      ))}
    </ul>
  );
}

interface DemoListProps {
  readonly bridge: Bridge;
  readonly onOpen: (demo: CallReply<'demos.list'>[number]) => void;
}

export function DemoList({ bridge, onOpen }: DemoListProps) {
  const demos = useCall(bridge, 'demos.list', {});
  if (demos.failure !== null) return <p className="notice">{demos.failure}</p>;
  return (
    <ul className="plain-list">
      {demos.value?.map((demo) => (
        <li key={demo.file}>
          <button type="button" onClick={() => onOpen(demo)}>
            {demo.file.replace(/\.mid$/, '').replaceAll('-', ' ')}
          </button>{' '}
          <span className="soft">{demo.about}</span>
        </li>
      ))}
    </ul>
  );
}
