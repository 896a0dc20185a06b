/**
 * Who plays which take, and how each ends: by its page, or by the host once that page is gone. The figures are made from what is
 * stored, so that a take counts however it ended.
 */

import { setImmediate } from 'node:timers/promises';
import { isDeepStrictEqual } from 'node:util';
import type {
  CallReply,
  HostNotice,
  TakeDecision,
  TakeSetUp,
} from '../../../shared/bridge/index.ts';
import { hasNote } from '../../core/take/has-note.ts';
import type { TakeEvent, TakeEvents, TakeSource } from '../../core/take/model.ts';
import {
  asStored,
  type BesideEvents,
  type FinishedBy,
  plainRefusal,
  type Recorded,
  refusal,
  refusalOf,
  StoreError,
  type TakeName,
  type TakeStore,
} from '../store/index.ts';
import { type Graded, gradeStored, uncounted } from './grade-stored.ts';

export interface TakeDesk {
  /** Refused as `busy` while another page plays. */
  begin(client: string, setUp: TakeSetUp, sources: readonly TakeSource[]): string;
  /** Answers the number of events stored. */
  append(
    client: string,
    takeId: string,
    from: number,
    events: readonly TakeEvent[],
    beside: BesideEvents,
  ): number;
  /** Whether the take is kept: one without a note is not. May be called again. */
  finish(takeId: string, endMs: number): boolean;
  /** Adds a whole take. */
  add(setUp: TakeSetUp, startedAtMs: number, take: TakeEvents): string;
  /** Looks how else a take from before can be read, once. */
  read(takeId: string): void;
  /** What the player answered to a reading of the take: it counts by that at once. */
  decide(takeId: string, decision: TakeDecision | null): void;
  delete(takeId: string): void;
  /** The take that is played, for a page that asks. */
  open(client: string): CallReply<'takes.open'>['take'];
  /** A page is gone: what it left open is finished. */
  leave(client: string): void;
  /** Finishes what nobody plays any more, the latest first, with a rest before each. */
  finishLeftOpen(): Promise<void>;
  /** What a player should know of takes that could not be finished as others are. */
  notices(): readonly HostNotice[];
}

export interface TakeDeskParts {
  readonly takes: TakeStore;
  readonly nowMs: () => number;
  readonly isOpen: () => boolean;
  /** What a take counts for is another now, or another take is played. */
  readonly onChanged: () => void;
  readonly onNotice: () => void;
  /** Between two takes of many. */
  readonly rest?: () => Promise<void>;
}

/** What a take comes to. */
type Counted = Extract<Graded, { readonly kind: 'graded' }>;

/** How soon a take that could not be finished, as on a full disk, is tried again. Own choice. */
const TRY_AGAIN_MS = 10_000;

/** The takes of an open library and who plays them. What hosts before this one left open is played by nobody. */
export function createTakeDesk(parts: TakeDeskParts): TakeDesk {
  const { takes, nowMs, rest = setImmediate } = parts;
  /** The page of each take that is played. */
  const players = new Map<string, string>();
  /** Takes that nobody plays and that are not finished. */
  const leftOpen = new Set(takes.unfinished());
  const notices = new Map<string, HostNotice>();
  let isToBeTriedAgain = false;

  function tell(takeId: string, notice: HostNotice | null): void {
    if (isDeepStrictEqual(notices.get(takeId) ?? null, notice)) return;
    if (notice === null) notices.delete(takeId);
    else notices.set(takeId, notice);
    parts.onNotice();
  }

  /** Null, and told, where there can be none: the take is kept, and the others count. */
  function gradedFrom(
    recorded: Recorded,
    endMs: number,
    decision: TakeDecision | null,
  ): Counted | null {
    const { takeId, setUp, take } = recorded;
    if (setUp === null || take === null) {
      tell(takeId, uncounted(recorded, 'partDamaged'));
      return null;
    }
    const graded = gradeStored(setUp, { ...take, endMs }, decision);
    tell(takeId, graded.kind === 'graded' ? null : uncounted(recorded, graded.why));
    return graded.kind === 'graded' ? graded : null;
  }

  function end(takeId: string, endMs: number | null, by: FinishedBy): boolean {
    const recorded = takes.recorded(takeId);
    const isKept = recorded !== null && (recorded.take === null || hasNote(recorded.take.events));
    if (isKept) {
      const lastMs = endMs ?? recorded.endMs;
      const graded = gradedFrom(recorded, lastMs, recorded.decision);
      takes.finish(takeId, lastMs, graded?.figures ?? null, by, graded?.readings ?? null);
    } else if (by === 'byPage') takes.remove(takeId);
    // Its page may come back with what it could not send.
    else takes.hide(takeId, nowMs());
    players.delete(takeId);
    leftOpen.delete(takeId);
    parts.onChanged();
    return isKept;
  }

  /** What cannot be finished now is tried again: what was played is stored already. */
  function endLeft(takeId: string): void {
    try {
      end(takeId, null, 'byHost');
    } catch (error) {
      leftOpen.add(takeId);
      tell(takeId, { kind: 'takeUnfinished', why: refusalOf(error).why });
      if (isToBeTriedAgain) return;
      isToBeTriedAgain = true;
      setTimeout(() => {
        isToBeTriedAgain = false;
        void desk.finishLeftOpen();
      }, TRY_AGAIN_MS).unref();
    }
  }

  function play(client: string, takeId: string): void {
    players.set(takeId, client);
    leftOpen.delete(takeId);
  }

  const desk: TakeDesk = {
    begin(client, setUp, sources) {
      for (const [takeId, player] of players) {
        if (player !== client) throw busy(takes.name(takeId));
      }
      const takeId = takes.begin(setUp, nowMs(), sources);
      // A page plays one at a time: what it had before is over.
      for (const before of players.keys()) leftOpen.add(before);
      players.clear();
      play(client, takeId);
      parts.onChanged();
      if (leftOpen.size > 0) void desk.finishLeftOpen();
      return takeId;
    },
    append(client, takeId, from, events, beside) {
      const { stored, state } = takes.append(takeId, from, events, beside);
      if (state === 'finished') return stored;
      const isNew = players.get(takeId) !== client;
      play(client, takeId);
      if (state === 'reopened' || isNew) parts.onChanged();
      return stored;
    },
    finish: (takeId, endMs) => end(takeId, endMs, 'byPage'),
    add(setUp, startedAtMs, played) {
      if (!hasNote(played.events)) {
        throw new StoreError(plainRefusal('badRequest', 'noNote'));
      }
      const take = { ...played, events: asStored(played.events) };
      const graded = gradeStored(setUp, take, null);
      if (graded.kind === 'uncounted' && graded.why === 'takeTooLong') {
        throw new StoreError(plainRefusal('tooLarge', 'takeTooLong'));
      }
      const takeId = takes.add(setUp, startedAtMs, take.events, take.endMs, graded.figures, {
        ...take,
        readings: graded.kind === 'graded' ? graded.readings : null,
      });
      if (graded.figures === null) tell(takeId, uncounted({ ...setUp, startedAtMs }, graded.why));
      parts.onChanged();
      return takeId;
    },
    read(takeId) {
      const recorded = takes.recorded(takeId);
      if (recorded === null || recorded.isRead || !recorded.isFinished) return;
      const graded = gradedFrom(recorded, recorded.endMs, recorded.decision);
      if (graded?.readings == null) return;
      try {
        takes.setReadings(takeId, graded.readings);
        parts.onChanged();
      } catch {
        // The take is shown all the same, and read another time when the disk has room for it.
      }
    },
    decide(takeId, decision) {
      const recorded = takes.recorded(takeId);
      const graded = recorded && gradedFrom(recorded, recorded.endMs, decision);
      takes.decide(takeId, decision, graded);
      parts.onChanged();
    },
    delete(takeId) {
      if (players.has(takeId) || leftOpen.has(takeId)) end(takeId, null, 'byHost');
      takes.setDeleted(takeId, nowMs());
      tell(takeId, null);
      parts.onChanged();
    },
    open(client) {
      const all = [...players];
      const [takeId, player] = all.find(([, one]) => one !== client) ?? all[0] ?? [];
      const name = takeId === undefined ? null : takes.name(takeId);
      return name && { ...name, isOwn: player === client };
    },
    leave(client) {
      for (const [takeId, player] of [...players]) {
        if (player !== client) continue;
        players.delete(takeId);
        endLeft(takeId);
      }
    },
    async finishLeftOpen() {
      for (const takeId of [...leftOpen]) {
        await rest();
        if (!parts.isOpen()) return;
        if (leftOpen.has(takeId)) endLeft(takeId);
      }
    },
    notices: () => [...notices.values()],
  };
  removeEmpty(takes);
  return desk;
}

/** Of takes in which nothing was played only those stay whose page this host, or the one before, was still to hear from. */
function removeEmpty(takes: TakeStore): void {
  for (const takeId of takes.finishedAndDeleted()) {
    const { take } = takes.recorded(takeId) ?? { take: null };
    if (take !== null && !hasNote(take.events)) takes.remove(takeId);
  }
}

function busy(name: TakeName | null): StoreError {
  return new StoreError(
    refusal('busy', { kind: 'playedElsewhere', chartTitle: name?.chartTitle ?? null }),
  );
}
