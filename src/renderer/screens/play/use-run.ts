/**
 * A run: takes one after another without leaving the piano. Starting and ending a take, an example heard before it, the
 * next tempo or the next key after it.
 */

import { useEffect, useRef, useState } from 'react';
import type { TakeSetUp } from '../../../../shared/bridge/index.ts';
import type { Form } from '../../../core/chart/index.ts';
import { createBeatClock } from '../../../core/grid/index.ts';
import { describeLineProblem, type WrittenLine } from '../../../core/line/index.ts';
import type { KeyCycle } from '../../../core/plan/index.ts';
import { modelOf } from '../../../core/score/index.ts';
import { useProgram } from '../../app/program.tsx';
import { lengthMs, pianoSoon } from '../../audio/index.ts';
import type { HeardWish } from '../../prepare/heard-wish.ts';
import { stageSettings } from '../../session/accompaniment.ts';
import { lastKeyOf } from '../../session/continued-line.ts';
import { exampleChorus } from '../../session/example-chorus.ts';
import { type HeardOut, hearOut } from '../../session/hear-out.ts';
import { type PlayedTake, startPlaying } from '../../session/start-playing.ts';
import { deviceFor, sourceOfDevice } from '../../settings/devices.ts';
import { inNextKey } from './next-key.ts';
import { nextTempo } from './next-tempo.ts';

/** After the last planned beat the last note may still come, and sound. */
const AFTER_END_MS = 1500;

/** How often a take is looked at for its end, or for that of a chorus. Not every frame: a key may need that at once. */
const WATCH_MS = 50;

export interface RunWish {
  readonly form: Form;
  readonly setUp: TakeSetUp;
  /** Whether the tempo follows readiness in endless play. */
  readonly nudge: boolean;
  readonly keyCycle: KeyCycle | null;
  /** The example heard before each take; null: only the count-in. */
  readonly heard: HeardWish | null;
  readonly onDone: (takeId: string) => void;
  readonly onBack: () => void;
}

export type Phase =
  | { readonly kind: 'ready' }
  | { readonly kind: 'starting' }
  /** An example sounds, to be answered. */
  | { readonly kind: 'listening'; readonly heard: HeardOut }
  | { readonly kind: 'playing'; readonly played: PlayedTake }
  | { readonly kind: 'failed'; readonly sentence: string };

/** What is played now, or next. */
interface Practised {
  readonly form: Form;
  readonly setUp: TakeSetUp;
  readonly tempoBpm: number;
}

export interface Run extends Practised {
  readonly phase: Phase;
  /** The phase this very moment, for what comes between two drawings. */
  now(): Phase;
  /** What the player was told last, or null. */
  readonly announced: string | null;
  begin(): void;
  stop(): Promise<void>;
}

function tempoOf({ grade }: TakeSetUp): number {
  return grade.tempo.kind === 'steady' ? grade.tempo.tempoBpm : 60;
}

/** Makes a run of a wish; `playedDevice` names the keyboard that was played last. */
export function useRun(wish: RunWish, playedDevice: () => string): Run {
  const { nudge, keyCycle, onDone, onBack } = wish;
  const { bridge, transport, settings, devices, notePlaying } = useProgram();
  const [practised, setPractised] = useState<Practised>(() => ({
    form: wish.form,
    setUp: wish.setUp,
    tempoBpm: tempoOf(wish.setUp),
  }));
  const [seed] = useState(() => Math.floor(Math.random() * 2 ** 31));
  const [phase, setPhase] = useState<Phase>({ kind: 'ready' });
  const [announced, setAnnounced] = useState<string | null>(null);
  const phaseRef = useRef(phase);
  const stopAsked = useRef(false);
  const examplesHeard = useRef(0);
  /** The last key of the answer before, from which the next example goes on. */
  const lastMidi = useRef<number | null>(null);

  function enter(next: Phase): void {
    phaseRef.current = next;
    setPhase(next);
  }

  async function start(next: Practised): Promise<void> {
    enter({ kind: 'starting' });
    setPractised(next);
    const device = deviceFor(devices, playedDevice(), settings.sound.midiOutput);
    const source = sourceOfDevice(device);
    const { form, setUp, tempoBpm } = next;
    const leftHand = setUp.grade.leftHand && source.splitMidi !== null;
    const tempo = { kind: 'steady', tempoBpm } as const;
    const grade = { ...setUp.grade, tempo, leftHand };
    const heard = wish.heard === null ? null : await listen(form, grade, wish.heard);
    if (wish.heard !== null && heard === null) return;
    const isModel = wish.heard?.purpose === 'toPlayBack';
    const model = isModel && heard !== null ? modelOf(form, heard) : null;
    const whole = { ...setUp, grade, deviceName: source.name, model };
    const started = await startPlaying(bridge, transport, form, whole, [source], settings.sound);
    if (!started.ok) return enter({ kind: 'failed', sentence: started.problems.join(' ') });
    enter({ kind: 'playing', played: started.value });
    if (stopAsked.current) await stop();
  }

  /** Plays an example chorus and gives its line; null when it could not be, or was stopped. */
  async function listen(
    form: Form,
    grade: TakeSetUp['grade'],
    { purpose, register, density }: HeardWish,
  ): Promise<WrittenLine | null> {
    examplesHeard.current++;
    const example = exampleChorus(form, grade, settings.sound, {
      register,
      density,
      seed: seed + examplesHeard.current,
      lastMidi: lastMidi.current,
    });
    if (!example.ok) {
      enter({ kind: 'failed', sentence: example.problems.map(describeLineProblem).join(' ') });
      return null;
    }
    setAnnounced('Listen; your chorus follows after the count-in.');
    const { score, line } = example.value;
    await pianoSoon();
    if (stopAsked.current) {
      enter({ kind: 'ready' });
      return null;
    }
    const heard = hearOut(transport, score, stageSettings(settings.sound));
    enter({ kind: 'listening', heard });
    try {
      const isWhole = await heard.done;
      enter({ kind: isWhole ? 'starting' : 'ready' });
      if (!isWhole) return null;
      setAnnounced(purpose === 'toPlayBack' ? 'Now the very same line.' : 'Answer: your chorus.');
      return line;
    } catch (error) {
      enter({ kind: 'failed', sentence: error instanceof Error ? error.message : String(error) });
      return null;
    }
  }

  /** Ends the take; null when it could not be stored, which the screen then says. */
  async function endTake(): Promise<string | null> {
    const now = phaseRef.current;
    if (now.kind !== 'playing') return null;
    enter({ kind: 'starting' });
    now.played.performance.stop();
    const fromMs = now.played.downbeatPageMs;
    notePlaying({ fromMs, toMs: Math.max(fromMs, performance.now()) });
    const { report, saved } = await now.played.take.end(performance.now());
    lastMidi.current = lastKeyOf(report);
    if (saved) return now.played.take.takeId;
    enter({
      kind: 'failed',
      sentence:
        'The take could not be finished on disk. What was stored of it is kept and offered among the takes of this chart.',
    });
    return null;
  }

  async function stop(): Promise<void> {
    const now = phaseRef.current;
    if (now.kind === 'listening') return now.heard.end();
    // Between two takes it is done as soon as there is something to stop.
    if (now.kind === 'starting') {
      stopAsked.current = true;
      return;
    }
    if (now.kind !== 'playing') return onBack();
    const takeId = await endTake();
    if (takeId !== null) onDone(takeId);
  }

  /** In endless play: after each chorus, whether the tempo is to follow. The change is told, and counted in. */
  async function follow({ take }: PlayedTake): Promise<void> {
    const { form, setUp } = practised;
    const next = nextTempo(take.reportSoFar(performance.now()), form, tempoOf(setUp));
    if (next !== null) await goOn({ form, setUp, tempoBpm: next.tempoBpm }, next.sentence);
  }

  /** At the planned end: on in the next key or to the next example, or to the review. */
  async function finish(): Promise<void> {
    const { setUp, tempoBpm } = practised;
    const next = keyCycle === null ? null : inNextKey(setUp, wish.setUp.key, keyCycle, seed);
    if (next !== null) return goOn({ ...next, tempoBpm }, next.sentence);
    if (wish.heard === null) return stop();
    await goOn(practised, 'Once more: listen, then play.');
  }

  /** Ends the take and begins the next one, told and counted in; a stop asked for in between ends both. */
  async function goOn(next: Practised, sentence: string): Promise<void> {
    stopAsked.current = false;
    const takeId = await endTake();
    if (takeId === null) return;
    if (stopAsked.current) return onDone(takeId);
    setAnnounced(sentence);
    await start(next);
  }

  const latest = useRef({ stop, follow, finish });
  latest.current = { stop, follow, finish };

  useEffect(() => {
    const leaving = new AbortController();
    const { signal } = leaving;
    const onKey = (event: KeyboardEvent): void => {
      if (event.key === 'Escape') void latest.current.stop();
    };
    window.addEventListener('keydown', onKey, { signal });
    // A window that is closed in mid-take ends it: what was played is in the journal already.
    window.addEventListener('pagehide', () => void latest.current.stop(), { signal });
    return () => {
      leaving.abort();
      if (phaseRef.current.kind === 'listening') phaseRef.current.heard.end();
    };
  }, []);

  useEffect(() => {
    if (phase.kind !== 'playing') return;
    const { played } = phase;
    const { form, setUp, tempoBpm } = practised;
    const clock = createBeatClock(form, { kind: 'steady', tempoBpm });
    const plannedMs = lengthMs(form, clock, setUp.grade.choruses);
    const chorusMs = lengthMs(form, clock, 1) ?? 0;
    let chorusesDone = 0;
    const watch = (): void => {
      const playedMs = played.performance.scoreMs(performance.now());
      if (plannedMs !== null && playedMs > plannedMs + AFTER_END_MS) {
        clearInterval(timer);
        return void latest.current.finish();
      }
      // The last notes of a chorus settle within its successor's first beat.
      const done = Math.floor((playedMs - clock.beatMs(0)) / chorusMs);
      if (nudge && plannedMs === null && done > chorusesDone) {
        chorusesDone = done;
        void latest.current.follow(played);
      }
    };
    const timer = setInterval(watch, WATCH_MS);
    return () => clearInterval(timer);
  }, [phase, practised, nudge]);

  return {
    ...practised,
    phase,
    announced,
    now: () => phaseRef.current,
    begin() {
      stopAsked.current = false;
      lastMidi.current = null;
      void start(practised);
    },
    stop,
  };
}
