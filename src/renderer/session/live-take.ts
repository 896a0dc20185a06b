/**
 * A take while it is played: keys in, verdicts out, everything on its way to disk. Knows no screen: the play screen
 * tells it the time, reads `snapshot()`, and is called back when a key was heard.
 */

import type { Bridge, Reply, TakeSetUp } from '../../../shared/bridge/index.ts';
import type { Form } from '../../core/chart/model.ts';
import {
  createLiveGrader,
  gradeTake,
  type HeardNote,
  type Report,
  type ReportChange,
  type ReportSlot,
} from '../../core/grading/index.ts';
import { type PickupNote, pickupNotes } from '../../core/score/index.ts';
import type { TakeBreak, TakeEvent, TakeSource } from '../../core/take/model.ts';
import { gradedSources, sourceOf } from '../../core/take/sources.ts';
import type { Performance } from '../audio/index.ts';
import { isFinal } from './final-refusal.ts';
import { createJournal, type Journal, type JournalState } from './journal.ts';
import { createSourceList } from './source-list.ts';

/** A key event as a port gives it: like an event of a take, but on the page's clock. */
export type PlayedKey = TakeEvent;

/** Verdicts so far. Arrays grow in place and are never reordered; `version` counts the changes. */
export interface LiveVerdicts {
  readonly version: number;
  /** Settled slots, by index. */
  readonly settled: readonly ReportSlot[];
  /** The latest provisional verdict of each slot that is not settled yet. */
  readonly heard: ReadonlyMap<number, HeardNote>;
  readonly changes: readonly ReportChange[];
  /** What was played before bar 1 where the chart has a pickup; nobody judges it. */
  readonly pickup: readonly PickupNote[];
  readonly journal: JournalState;
  readonly disconnected: boolean;
  /** What the sound that is followed does: it runs, it is being found again, or it was interrupted in this take. */
  readonly sound: 'runs' | 'doubted' | 'wasBroken';
}

/** What a take needs of the performance it is played to. */
export type TakeClock = Pick<
  Performance,
  'scoreMs' | 'breaks' | 'isDoubted' | 'openBreak' | 'onBreak' | 'over'
>;

export interface LiveTake {
  readonly takeId: string;
  /** A key as it is played, and the keyboard that it is one of. */
  key(event: PlayedKey, deviceName: string): void;
  /** Tells the page's time; call it at least every 40 ms. */
  tick(nowMs: number): void;
  snapshot(): LiveVerdicts;
  /** How late the keys arrive at most, of the keyboards heard so far. */
  latencyMs(): number;
  /** Tells that what was heard has been shown, so that there is a moment to spare. */
  shown(): void;
  /** Calls back after each event that changed the verdicts at once, until what it gives is called. */
  whenHeard(onHeard: () => void): () => void;
  /** The report of what was played until now. */
  reportSoFar(nowMs: number): Report;
  /** Ends the take: nothing is recorded any more. Gives its report; call once. */
  end(nowMs: number): Report;
  /** Stores what is not stored yet and has the host finish the take that was ended. Refused, it may be asked again. */
  handIn(): Promise<Reply<'takes.finish'>>;
}

/**
 * A tick that comes this late means the page was blocked. Keys played meanwhile may still be queued, so the clock is
 * held back for one tick, and one only: a slow page has no other kind of tick.
 */
const BLOCKED_MS = 40;

/** The store keeps whole microseconds; what is graded live must be what is kept. */
function wholeMicroseconds(timeMs: number): number {
  return Math.round(timeMs * 1000) / 1000;
}

/**
 * Starts a take that was begun at the host. The take's clock is that of the performance it is played to; `sourceFor` says
 * what is known of a keyboard when its first key is played.
 */
export function startLiveTake(
  bridge: Pick<Bridge, 'ask'>,
  takeId: string,
  form: Form,
  setUp: TakeSetUp,
  sourceFor: (deviceName: string) => TakeSource,
  clock: TakeClock,
): LiveTake {
  const { scoreMs } = clock;
  const settled: ReportSlot[] = [];
  const changes: ReportChange[] = [];
  const heard = new Map<number, HeardNote>();
  const early: TakeEvent[] = [];
  let pickup: readonly PickupNote[] = [];
  let version = 0;
  let journalState: JournalState = { kind: 'stored' };
  let disconnected = false;
  let lastTickMs = Number.NEGATIVE_INFINITY;
  let heldBack = false;
  let view: LiveVerdicts | null = null;
  let endMs = 0;
  let report: Report | null = null;
  const listeners = new Set<() => void>();

  function changed(): void {
    version++;
    view = null;
  }

  const listener = {
    heard(note: HeardNote) {
      heard.set(note.slot, note);
      changed();
    },
    settled(slot: ReportSlot) {
      settled.push(slot);
      heard.delete(slot.index);
      changed();
    },
    changed(change: ReportChange) {
      changes.push(change);
      changed();
    },
  };
  const grader = createLiveGrader(form, setUp.grade, listener);
  const sources = createSourceList(sourceFor, grader.setSources);
  let breaks: readonly TakeBreak[] = [];
  const onJournal = (state: JournalState): void => {
    if (state.kind === journalState.kind) return;
    journalState = state;
    changed();
  };
  const beside = () => ({ sources: sources.all(), breaks });
  const journal: Journal = createJournal(bridge, takeId, beside, onJournal);

  function addBreak({ fromMs, toMs }: TakeBreak): void {
    const pause = { fromMs: wholeMicroseconds(fromMs), toMs: wholeMicroseconds(toMs) };
    breaks = [...breaks, pause];
    grader.addBreak(pause);
    journal.besideChanged();
  }

  function takeBreaks(): void {
    for (const pause of clock.breaks().slice(breaks.length)) addBreak(pause);
    changed();
  }
  takeBreaks();
  clock.onBreak(takeBreaks, clock.over);

  /** Whether a key is played before the form begins. */
  function isEarly(event: TakeEvent): boolean {
    const { latencyMs } = sourceOf(event, gradedSources(sources.all(), setUp.grade));
    return event.kind === 'noteOn' && event.atMs < latencyMs;
  }

  return {
    takeId,
    key(played, deviceName) {
      const source = sources.indexOf(played, deviceName);
      if (source === null) return;
      const versionBefore = version;
      const atMs = wholeMicroseconds(scoreMs(played.atMs));
      const event: TakeEvent = { ...played, atMs, ...(source > 0 && { source }) };
      journal.add(event);
      grader.take(event);
      if (form.pickup !== null && isEarly(event)) {
        early.push(event);
        pickup = pickupNotes(form, { events: early, sources: sources.all() }, setUp.grade);
        changed();
      }
      const lost = played.kind === 'allOff' && played.cause === 'disconnect';
      if (lost !== disconnected && (lost || played.kind === 'noteOn')) {
        disconnected = lost;
        changed();
      }
      if (version !== versionBefore) for (const onHeard of listeners) onHeard();
    },
    tick(nowMs) {
      heldBack = !heldBack && nowMs - lastTickMs > BLOCKED_MS;
      lastTickMs = nowMs;
      // What is in doubt may become a break, of which the grader is to know before it passes its beginning.
      if (!heldBack && !clock.isDoubted()) grader.advance(scoreMs(nowMs));
    },
    snapshot() {
      const sound = clock.isDoubted() ? 'doubted' : breaks.length > 0 ? 'wasBroken' : 'runs';
      const told = { journal: journalState, disconnected, sound } as const;
      view ??= { version, settled, heard, changes, pickup, ...told };
      return view;
    },
    latencyMs: () => Math.max(0, ...sources.all().map(({ latencyMs }) => latencyMs)),
    shown: () => journal.spare(),
    whenHeard(onHeard) {
      listeners.add(onHeard);
      return () => listeners.delete(onHeard);
    },
    reportSoFar(nowMs) {
      return gradeTake(form, grader.recorded(scoreMs(nowMs)), setUp.grade);
    },
    end(nowMs) {
      takeBreaks();
      const open = clock.openBreak(nowMs);
      if (open !== null) addBreak(open);
      endMs = wholeMicroseconds(scoreMs(nowMs));
      report = grader.end(endMs);
      journal.stop();
      return report;
    },
    async handIn() {
      if (report === null) throw new Error('a take is ended before it is handed in');
      const isStored = await journal.flush();
      const refusal = !isStored && journalState.kind === 'waiting' ? journalState.refusal : null;
      if (refusal !== null && !isFinal(refusal)) return { ok: false, refusal };
      // What the host never takes is lost; what it has is finished, so that no take stays open.
      const finished = await bridge.ask('takes.finish', { takeId, endMs });
      return refusal !== null && finished.ok ? { ok: false, refusal } : finished;
    },
  };
}
