/** From takes to sessions. */

import { chartsPlayed, minutesOf } from './charts-played.ts';
import type { DatedRemark, Journal, JournalTake, PracticeSession } from './model.ts';

/** A take that begins this long after the last one ended begins a session. Own rule. */
export const SESSION_GAP_MS = 30 * 60_000;

/**
 * Sorts takes, in any order, into sessions: each take is in exactly one. A pause of `SESSION_GAP_MS` parts two sessions, a
 * shorter one does not; takes may overlap. A remark goes with the session it was written in, else with the nearest one
 * of its day, else it is loose.
 */
export function journalOf(takes: readonly JournalTake[], remarks: readonly DatedRemark[]): Journal {
  const bare = groupsOf(takes).map(sessionOf);
  const looseRemarks: DatedRemark[] = [];
  const remarksOf = new Map<PracticeSession, DatedRemark[]>();
  for (const remark of remarks.toSorted((one, other) => one.atMs - other.atMs)) {
    const session = sessionFor(remark, bare);
    if (session === null) looseRemarks.push(remark);
    else remarksOf.set(session, [...(remarksOf.get(session) ?? []), remark]);
  }
  const sessions = bare
    .map((session) => ({ ...session, remarks: remarksOf.get(session) ?? [] }))
    .reverse();
  return { sessions, looseRemarks };
}

function endOf({ startedAtMs, endMs }: JournalTake): number {
  return startedAtMs + Math.max(0, endMs);
}

/** By the clock on the wall. */
function endMinuteOf({ minute, endMs }: JournalTake): number {
  return Math.floor(minute + Math.max(0, endMs) / 60_000) % (24 * 60);
}

function groupsOf(takes: readonly JournalTake[]): readonly (readonly JournalTake[])[] {
  const groups: JournalTake[][] = [];
  let latestEndMs = Number.NEGATIVE_INFINITY;
  for (const take of takes.toSorted((one, other) => one.startedAtMs - other.startedAtMs)) {
    const group = groups.at(-1);
    if (group === undefined || take.startedAtMs - latestEndMs >= SESSION_GAP_MS)
      groups.push([take]);
    else group.push(take);
    latestEndMs = Math.max(latestEndMs, endOf(take));
  }
  return groups;
}

/** Takes, oldest first. */
function sessionOf(takes: readonly JournalTake[]): PracticeSession {
  const [first] = takes;
  const last = takes.reduce<JournalTake | undefined>(
    (latest, take) => (latest === undefined || endOf(take) > endOf(latest) ? take : latest),
    undefined,
  );
  return {
    day: first?.day ?? 0,
    startMinute: first?.minute ?? 0,
    endMinute: last === undefined ? 0 : endMinuteOf(last),
    startMs: first?.startedAtMs ?? 0,
    endMs: last === undefined ? 0 : endOf(last),
    minutes: minutesOf(takes),
    takes,
    charts: chartsPlayed(takes),
    remarks: [],
  };
}

/** The session a remark goes with: the nearest of those that were going on, or were begun on its day. */
function sessionFor(
  { atMs, day }: DatedRemark,
  sessions: readonly PracticeSession[],
): PracticeSession | null {
  let nearest: PracticeSession | null = null;
  let nearestMs = Number.POSITIVE_INFINITY;
  for (const session of sessions) {
    const awayMs = Math.max(0, session.startMs - atMs, atMs - session.endMs);
    if ((session.day === day || awayMs === 0) && awayMs < nearestMs) {
      nearest = session;
      nearestMs = awayMs;
    }
  }
  return nearest;
}
