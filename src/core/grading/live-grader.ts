/**
 * The grader while a take is played: verdicts as notes come, from events that may arrive a little late or out of
 * order. Its report is that of the same events graded from a file.
 */

import type { Form } from '../chart/model.ts';
import { createLongList } from '../long-list.ts';
import type { TakeBreak, TakeEvent, TakeEvents, TakeSource } from '../take/model.ts';
import { gradedSources, sourceOf } from '../take/sources.ts';
import { createGrader, type GraderListener, gradeTake, type NoteOn } from './grader.ts';
import type { HeardNote } from './heard.ts';
import type { Report } from './report.ts';
import type { GradeSettings } from './settings.ts';

/**
 * How long to wait for events that were played earlier but are delivered later: the hand-over between a port, a browser's
 * queue and the page, two ports that are not in step, and the sound that may turn out to have stood still. Source:
 * `grading.md`, "Time and grid", sources.
 */
export const DELIVERY_SLACK_MS = 150;

export interface LiveListener extends GraderListener {
  /** Told at once for each key-down of the line. */
  heard(note: HeardNote): void;
}

export interface LiveGrader {
  /** Takes an event as it is delivered. */
  take(event: TakeEvent): void;
  /**
   * Tells the time on the take's clock. Call it often, and only when whatever was played more than the slack ago has been
   * delivered: after the page was blocked, once its queue has been emptied; while the clock is in doubt, not past where the
   * doubt began.
   */
  advance(nowMs: number): void;
  /**
   * Puts the list of keyboards in the place of the one before, which it begins with; before any event of a new one. The first
   * keys of one that comes later than all before may miss the running verdicts; the report has them.
   */
  setSources(sources: readonly TakeSource[]): void;
  /** Tells of a break, before the time past its beginning. One told later is missing from verdicts settled by then. */
  addBreak(pause: TakeBreak): void;
  /** What was recorded so far, in order of time. */
  recorded(nowMs: number): TakeEvents;
  /** Ends the take; its report is `gradeTake` of what was recorded. */
  end(nowMs: number): Report;
}

/** An event on its way to the grader, and when it was played: the latency of its source taken off. */
interface Waiting {
  readonly event: TakeEvent;
  readonly playedMs: number;
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
  const breaks: TakeBreak[] = [];
  let sources = startSources;
  let graded = gradedSources(sources, settings);
  let waiting: Waiting[] = [];
  let horizonMs = Number.NEGATIVE_INFINITY;
  let lastHeard: HeardNote | null = null;
  let beforeLast: HeardNote | null = null;

  function record(event: TakeEvent): void {
    let at = events.length;
    while (at > 0 && (events.at(at - 1)?.atMs ?? 0) > event.atMs) at--;
    events.insert(at, event);
  }

  /** A straggler from before the horizon misses the running verdicts; the report has it. */
  function queue(event: TakeEvent): void {
    const playedMs = event.atMs - sourceOf(event, graded).latencyMs;
    if (playedMs < horizonMs) return;
    let at = waiting.length;
    while (at > 0 && (waiting[at - 1]?.playedMs ?? 0) > playedMs) at--;
    waiting.splice(at, 0, { event, playedMs });
  }

  function hear(event: NoteOn): void {
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

  function recorded(endMs: number): TakeEvents {
    return { events: events.slice(), endMs, sources, breaks: breaks.slice() };
  }

  return {
    take(event) {
      record(event);
      queue(event);
      if (event.kind === 'noteOn' && event.velocity > 0) hear(event);
    },
    advance(nowMs) {
      // What is delivered from now on was played within the slack, on the keyboard whose keys come latest.
      const latestMs = Math.max(...graded.map(({ latencyMs }) => latencyMs));
      horizonMs = Math.max(horizonMs, nowMs - slackMs - latestMs);
      let ready = 0;
      for (const { event, playedMs } of waiting) {
        if (playedMs >= horizonMs) break;
        grader.take(event);
        ready++;
      }
      if (ready > 0) waiting = waiting.slice(ready);
      grader.advance(horizonMs);
    },
    setSources(list) {
      sources = list;
      graded = gradedSources(list, settings);
      grader.setSources(list);
    },
    addBreak(pause) {
      breaks.push(pause);
      grader.addBreak(pause);
    },
    recorded,
    end: (nowMs) => gradeTake(form, recorded(nowMs), settings),
  };
}
