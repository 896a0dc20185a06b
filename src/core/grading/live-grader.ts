/**
 * The grader while a take is played: verdicts as notes come, from events that may arrive a little late or out of
 * order. Its report is that of the same events graded from a file.
 */

import type { Form } from '../chart/model.ts';
import { createLongList } from '../long-list.ts';
import type { TakeBreak, TakeEvent, TakeEvents, TakeSource } from '../take/model.ts';
import { gradedSources } from '../take/sources.ts';
import { createGrader, type GraderListener, gradeTake } from './grader.ts';
import type { HeardNote } from './heard.ts';
import type { Report } from './report.ts';
import type { GradeSettings } from './settings.ts';

/**
 * How long to wait for events that were played earlier but are delivered later: the hand-over between a port, a
 * browser's queue and the page takes milliseconds, and two ports are not in step. Our own choice, no source.
 */
export const DELIVERY_SLACK_MS = 50;

export interface LiveListener extends GraderListener {
  /** Told at once for each key-down of the line. */
  heard(note: HeardNote): void;
}

export interface LiveGrader {
  /** Takes an event as it is delivered. */
  take(event: TakeEvent): void;
  /**
   * Tells the time on the take's clock. Call it often, and only when whatever was played more than the slack ago
   * has been delivered: after the page was blocked, once its queue has been emptied.
   */
  advance(nowMs: number): void;
  /** Puts the list of keyboards in the place of the one before, which it begins with; before any event of a new one. */
  setSources(sources: readonly TakeSource[]): void;
  /** Tells of a break. Call it before the time is told that lies past its beginning. */
  addBreak(pause: TakeBreak): void;
  /** What was recorded so far, in order of time. */
  recorded(nowMs: number): TakeEvents;
  /** Ends the take; its report is `gradeTake` of what was recorded. */
  end(nowMs: number): Report;
}

/** Starts grading a take being played. `slackMs` is how much later than played an event may be delivered. */
export function createLiveGrader(
  form: Form,
  settings: GradeSettings,
  listener: LiveListener,
  startSources: readonly TakeSource[] = [],
  slackMs: number = DELIVERY_SLACK_MS,
): LiveGrader {
  const grader = createGrader(form, settings, startSources, listener);
  const events = createLongList<TakeEvent>();
  let sources = startSources;
  const breaks: TakeBreak[] = [];
  let fed = 0;
  let horizonMs = Number.NEGATIVE_INFINITY;
  let lastHeard: HeardNote | null = null;
  let beforeLast: HeardNote | null = null;

  function insert(event: TakeEvent): void {
    let at = events.length;
    while (at > 0 && (events.at(at - 1)?.atMs ?? 0) > event.atMs) at--;
    events.insert(at, event);
    // A straggler from before the horizon misses the running verdicts; the report has it.
    if (at < fed) fed++;
  }

  function hear(event: TakeEvent & { readonly kind: 'noteOn' }): void {
    const slotBefore = lastHeard;
    const first = grader.hear(event, slotBefore);
    if (first === null) return;
    const sameSlot = slotBefore !== null && slotBefore.slot === first.slot;
    const heard = sameSlot ? grader.hear(event, beforeLast) : first;
    if (heard === null) return;
    if (!sameSlot) beforeLast = lastHeard;
    lastHeard = heard;
    listener.heard(heard);
  }

  return {
    take(event) {
      insert(event);
      if (event.kind === 'noteOn' && event.velocity > 0) hear(event);
    },
    advance(nowMs) {
      horizonMs = Math.max(horizonMs, nowMs - slackMs);
      for (let event = events.at(fed); event !== undefined && event.atMs < horizonMs; ) {
        grader.take(event);
        event = events.at(++fed);
      }
      grader.advance(horizonMs - latencyMs());
    },
    setSources(list) {
      sources = list;
    },
    addBreak(pause) {
      breaks.push(pause);
    },
    recorded,
    end: (nowMs) => gradeTake(form, recorded(nowMs), settings),
  };

  function latencyMs(): number {
    return gradedSources(sources, settings)[0]?.latencyMs ?? 0;
  }

  function recorded(endMs: number): TakeEvents {
    return { events: events.slice(), endMs, sources, breaks: breaks.slice() };
  }
}
