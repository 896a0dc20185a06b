/** What was played on a chart, and the demo takes. */

import type { Bridge, CallReply } from '../../../../shared/bridge/index.ts';
import { describeTake } from '../../app/take-words.ts';
import { useCall } from '../../app/use-call.ts';

interface TakeListProps {
  readonly bridge: Bridge;
  readonly chartId: string;
  readonly onReview: (takeId: string) => void;
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
