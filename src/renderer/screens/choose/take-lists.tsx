/** What was played on a chart, and the demo takes. */

import type { CallReply } from '../../../../shared/bridge/index.ts';
import { describeTake } from '../../app/take-words.ts';
import { useAnswer } from '../../data/index.ts';

interface TakeListProps {
  readonly chartId: string;
  readonly onReview: (takeId: string) => void;
}

export function TakeList({ chartId, onReview }: TakeListProps) {
  const takes = useAnswer('takes.list', { chartId, limit: 50 });
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
  readonly onOpen: (demo: CallReply<'demos.list'>[number]) => void;
}

export function DemoList({ onOpen }: DemoListProps) {
  const demos = useAnswer('demos.list', {});
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
