/** What to play in the minutes there are: in order, each with its reason; the player decides. */

import './today.css';
import { useState } from 'react';
import type { CallRequest } from '../../../../shared/bridge/index.ts';
import { counted } from '../../../core/findings/index.ts';
import {
  describeBars,
  describeItem,
  isPlayed,
  lockedItems,
  lockItem,
  moveItem,
  type PlayItem,
  type Session,
  type SessionItem,
  skipItem,
  unlockItem,
} from '../../../core/progress/index.ts';
import { BreakNotice } from '../../app/break-notice.tsx';
import { useProgram } from '../../app/program.tsx';
import { CAUTION } from '../../app/words.ts';
import { useAnswer, useForget, useLast } from '../../data/index.ts';
import { FailureNotice } from '../../look/failure-notice.tsx';
import { NumberField } from '../../look/fields.tsx';
import { withSigns } from '../../look/signs.ts';
import type { Again } from '../../prepare/play-again.ts';
import { playNamed } from '../../prepare/play-named.ts';

interface TodayScreenProps {
  readonly onPlay: (again: Again, nudge: boolean) => void;
}

const KIND_WORDS: Readonly<Record<PlayItem['kind'], string>> = {
  due: 'due',
  nearRaise: 'close to a raise',
  weakPlace: 'weak place',
  newThing: 'something new',
};

/** Choruses of one start; the minutes of an item are several starts. */
const CHORUSES = 2;

type Wish = CallRequest<'progress.session'>;

/** Asks for what fits into the minutes, around what the player keeps of the proposal before. */
function wishFor(minutes: number, dailyLimitMinutes: number, before: Session | null): Wish {
  return {
    ...{ minutes, dailyLimitMinutes },
    locked: before === null ? [] : lockedItems(before),
    skippedIds: before?.skippedIds ?? [],
  };
}

export default function TodayScreen({ onPlay }: TodayScreenProps) {
  const { bridge, settings, changeSettings } = useProgram();
  const { sessionMinutes, dailyLimitMinutes } = settings;
  const [wish, setWish] = useState(() => wishFor(sessionMinutes, dailyLimitMinutes, null));
  const forget = useForget();
  const proposed = useAnswer('progress.session', wish);
  /** The proposal as the player has changed it, and what it was asked with: proposed anew only when the player says so. */
  const [shown, setShown] = useState<{ readonly of: Wish; readonly session: Session } | null>(null);
  const [failure, setFailure] = useState<string | null>(null);
  if (proposed.value !== null && shown?.of !== wish) {
    setShown({ of: wish, session: proposed.value.session });
  }
  const session = shown?.session ?? null;
  const playedMinutes = useLast(proposed.value)?.playedMinutes ?? 0;

  function propose(minutes: number, limit: number): void {
    // Time has passed, though nothing has changed: the same wish may be answered otherwise.
    forget('progress.session');
    setWish(wishFor(minutes, limit, session));
  }

  async function play({ play: named, kind }: PlayItem): Promise<void> {
    const isDrill = kind === 'weakPlace';
    const choruses = isDrill ? null : CHORUSES;
    const ready = await playNamed(bridge, { ...named, choruses });
    if (ready.ok) onPlay(ready.value, isDrill);
    else setFailure(ready.problems.join(' '));
  }

  const items = session?.items ?? [];
  const played = items.filter(isPlayed);
  return (
    <>
      <h2>Today</h2>
      <BreakNotice playingSinceMs={null} />
      <p className="soft caution">{CAUTION}</p>
      <div className="row">
        <NumberField
          label="Minutes there are"
          min={5}
          max={240}
          value={sessionMinutes}
          onChange={(minutes) => {
            changeSettings({ ...settings, sessionMinutes: minutes });
            propose(minutes, dailyLimitMinutes);
          }}
        />
        <NumberField
          label="Most minutes of playing in a day"
          min={5}
          max={480}
          value={dailyLimitMinutes}
          onChange={(minutes) => {
            changeSettings({ ...settings, dailyLimitMinutes: minutes });
            propose(sessionMinutes, minutes);
          }}
        />
        <button type="button" onClick={() => propose(sessionMinutes, dailyLimitMinutes)}>
          Propose again
        </button>
      </div>
      <FailureNotice words={failure ?? proposed.failure} />
      <p>
        Played today: {counted(Math.round(playedMinutes), 'minute')}.
        {playedMinutes >= dailyLimitMinutes &&
          ' That is the limit you set: rest now, and go on tomorrow.'}
      </p>
      {session !== null && played.length === 0 && playedMinutes < dailyLimitMinutes && (
        <p>
          Nothing to propose in these minutes. Give yourself five or more, or choose a chart, play
          two choruses in steps, slower than feels necessary, and come back: from then on this page
          says what is due, what is close to a faster tempo, and what is new.
        </p>
      )}
      <ol className="proposed">
        {items.map((item, index) =>
          isPlayed(item) && session !== null ? (
            <Item
              key={item.id}
              item={item}
              isLocked={session.lockedIds.includes(item.id)}
              place={played.indexOf(item)}
              places={played.length}
              onSession={(change) =>
                setShown(shown && { ...shown, session: change(shown.session) })
              }
              onPlay={() => void play(item)}
            />
          ) : (
            <li key={`break before ${idOf(items[index + 1])}`} className="break">
              {describeItem(item)}
            </li>
          ),
        )}
      </ol>
    </>
  );
}

/** A break is followed by something to play. */
function idOf(item: SessionItem | undefined): string {
  return item === undefined || !isPlayed(item) ? '' : item.id;
}

interface ItemProps {
  readonly item: PlayItem;
  readonly isLocked: boolean;
  readonly place: number;
  readonly places: number;
  readonly onSession: (change: (session: Session) => Session) => void;
  readonly onPlay: () => void;
}

function Item({ item, isLocked, place, places, onSession, onPlay }: ItemProps) {
  const { chartTitle, level, key, plan, tempoBpm, bars } = item.play;
  const what = `${chartTitle}, ${level} at ${tempoBpm} in ${withSigns(key)}, plan ${plan}${
    bars === null ? '' : `, ${describeBars(bars)}`
  }`;
  return (
    <li className="proposed-item">
      <div>
        <p className="proposed-what">
          <strong>{what}</strong>
        </p>
        <p className="soft">
          {counted(item.minutes, 'minute')}, {KIND_WORDS[item.kind]}.{' '}
          {withSigns(describeItem(item))}
        </p>
      </div>
      <div className="row">
        <button type="button" className="main" onClick={onPlay}>
          Play
        </button>
        <button
          type="button"
          disabled={place === 0}
          aria-label={`Earlier: ${what}`}
          onClick={() => onSession((session) => moveItem(session, item.id, place - 1))}
        >
          ↑
        </button>
        <button
          type="button"
          disabled={place === places - 1}
          aria-label={`Later: ${what}`}
          onClick={() => onSession((session) => moveItem(session, item.id, place + 1))}
        >
          ↓
        </button>
        <button
          type="button"
          aria-pressed={isLocked}
          onClick={() =>
            onSession((session) =>
              isLocked ? unlockItem(session, item.id) : lockItem(session, item.id),
            )
          }
        >
          Keep
        </button>
        <button type="button" onClick={() => onSession((session) => skipItem(session, item.id))}>
          Not today
        </button>
      </div>
    </li>
  );
}
