/** Playing: the chart's page with the line drawn through it as it is played. */

import './play.css';
import { useEffect, useRef, useState } from 'react';
import type { TakeSetUp } from '../../../../shared/bridge/index.ts';
import type { Form } from '../../../core/chart/index.ts';
import { createBeatClock } from '../../../core/grid/index.ts';
import type { KeyCycle } from '../../../core/plan/index.ts';
import { BreakNotice } from '../../app/break-notice.tsx';
import { useProgram } from '../../app/program.tsx';
import { CAUTION } from '../../app/words.ts';
import { lengthMs } from '../../audio/index.ts';
import { LinePatterns } from '../../chart-page/line-in-bar.tsx';
import { KeyboardWords } from '../../midi/keyboard-words.tsx';
import { playedDevice, useKeys } from '../../midi/use-keys.ts';
import { useSoundedKeys } from '../../midi/use-sounded-keys.ts';
import type { PlayedKey } from '../../session/live-take.ts';
import { type PlayedTake, startPlaying } from '../../session/start-playing.ts';
import { deviceFor, handOf } from '../../settings/devices.ts';
import { KeyLayout } from './key-layout.tsx';
import { LiveLine } from './live-line.tsx';
import { inNextKey } from './next-key.ts';
import { nextTempo } from './next-tempo.ts';
import { isSignal } from './start-signal.ts';

/** After the last planned beat the last note may still come, and sound. */
const AFTER_END_MS = 1500;

interface PlayScreenProps {
  readonly form: Form;
  readonly setUp: TakeSetUp;
  readonly nudge: boolean;
  readonly keyCycle: KeyCycle | null;
  readonly onDone: (takeId: string) => void;
  readonly onBack: () => void;
}

type Phase =
  | { readonly kind: 'ready' }
  | { readonly kind: 'starting' }
  | { readonly kind: 'playing'; readonly played: PlayedTake }
  | { readonly kind: 'failed'; readonly sentence: string };

/** A take that follows another without leaving the piano. */
interface NextTake {
  readonly form: Form;
  readonly setUp: TakeSetUp;
  readonly tempoBpm: number;
  readonly sentence: string;
}

function tempoOf({ grade }: TakeSetUp): number {
  return grade.tempo.kind === 'steady' ? grade.tempo.tempoBpm : 60;
}

function atTempo(setUp: TakeSetUp, tempoBpm: number): TakeSetUp {
  return { ...setUp, grade: { ...setUp.grade, tempo: { kind: 'steady', tempoBpm } } };
}

export default function PlayScreen(props: PlayScreenProps) {
  const { nudge, keyCycle, onDone, onBack } = props;
  const [{ form, setUp }, setPractised] = useState<Pick<PlayScreenProps, 'form' | 'setUp'>>(props);
  const [seed] = useState(() => Math.floor(Math.random() * 2 ** 31));
  const { bridge, settings, devices, notePlaying } = useProgram();
  const sound = useSoundedKeys();
  const [phase, setPhase] = useState<Phase>({ kind: 'ready' });
  const [tempoBpm, setTempoBpm] = useState(() => tempoOf(setUp));
  const [announced, setAnnounced] = useState<string | null>(null);
  const phaseRef = useRef(phase);
  const stopAsked = useRef(false);
  const lastDevice = useRef<string | null>(null);
  const startButton = useRef<HTMLButtonElement>(null);

  function enter(next: Phase): void {
    phaseRef.current = next;
    setPhase(next);
  }

  useEffect(() => startButton.current?.focus(), []);

  const keyboards = useKeys((key: PlayedKey, deviceName: string) => {
    if (key.kind === 'noteOn') lastDevice.current = deviceName;
    const now = phaseRef.current;
    if (isSignal(key, settings.start)) {
      if (now.kind === 'playing') void stop();
      else if (now.kind !== 'starting') begin();
      return;
    }
    sound(key);
    if (now.kind === 'playing') now.played.take.key(key);
  });

  async function start(ofForm: Form, ofSetUp: TakeSetUp, atBpm: number): Promise<void> {
    enter({ kind: 'starting' });
    setTempoBpm(atBpm);
    const device = deviceFor(
      devices,
      playedDevice(keyboards, lastDevice.current),
      settings.sound.midiOutput,
    );
    const { latencyMs, splitMidi, deviceName } = handOf(device);
    const at = atTempo(ofSetUp, atBpm);
    const leftHand = at.grade.leftHand && splitMidi !== null;
    const grade = { ...at.grade, latencyMs, splitMidi, leftHand };
    const started = await startPlaying(
      bridge,
      ofForm,
      { ...at, grade, deviceName },
      settings.sound,
    );
    if (!started.ok) return enter({ kind: 'failed', sentence: started.problems.join(' ') });
    enter({ kind: 'playing', played: started.value });
    if (stopAsked.current) await stop();
  }

  function begin(): void {
    stopAsked.current = false;
    void start(form, setUp, tempoBpm);
  }

  /** Ends the take; null when it could not be stored, which the screen then says. */
  async function endTake(): Promise<string | null> {
    const now = phaseRef.current;
    if (now.kind !== 'playing') return null;
    enter({ kind: 'starting' });
    now.played.performance.stop();
    const fromMs = now.played.performance.downbeatAtMs;
    notePlaying({ fromMs, toMs: Math.max(fromMs, performance.now()) });
    const { saved } = await now.played.take.end(performance.now());
    if (saved) return now.played.take.takeId;
    enter({
      kind: 'failed',
      sentence:
        'The take could not be finished on disk. What was stored of it is kept and offered among the takes of this chart.',
    });
    return null;
  }

  async function stop(): Promise<void> {
    if (phaseRef.current.kind === 'starting') {
      // Between two takes, or before the first sounds: it is done as soon as there is something to stop.
      stopAsked.current = true;
      return;
    }
    if (phaseRef.current.kind !== 'playing') return onBack();
    const takeId = await endTake();
    if (takeId !== null) onDone(takeId);
  }

  /** In endless play: after each chorus, whether the tempo is to follow. The change is told, and counted in. */
  async function follow({ take }: PlayedTake): Promise<void> {
    const next = nextTempo(take.reportSoFar(performance.now()), form, tempoOf(setUp));
    if (next === null) return;
    await goOn({ form, setUp, ...next });
  }

  /** At the planned end: on in the next key, or to the review. */
  async function finish(): Promise<void> {
    const next = keyCycle === null ? null : inNextKey(setUp, props.setUp.key, keyCycle, seed);
    if (next === null) return stop();
    await goOn({ ...next, tempoBpm });
  }

  /** Ends the take and begins the next one, told and counted in; a stop asked for in between ends both. */
  async function goOn(next: NextTake): Promise<void> {
    stopAsked.current = false;
    const takeId = await endTake();
    if (takeId === null) return;
    if (stopAsked.current) return onDone(takeId);
    setPractised(next);
    setAnnounced(next.sentence);
    await start(next.form, next.setUp, next.tempoBpm);
  }

  const latest = useRef({ stop, follow, finish });
  latest.current = { stop, follow, finish };

  useEffect(() => {
    const leaving = new AbortController();
    window.addEventListener(
      'keydown',
      (event) => {
        if (event.key === 'Escape') void latest.current.stop();
      },
      { signal: leaving.signal },
    );
    // A window that is closed in mid-take ends it: what was played is in the journal already.
    window.addEventListener('pagehide', () => void latest.current.stop(), {
      signal: leaving.signal,
    });
    return () => leaving.abort();
  }, []);

  useEffect(() => {
    if (phase.kind !== 'playing') return;
    const { played } = phase;
    const clock = createBeatClock(form, { kind: 'steady', tempoBpm });
    const plannedMs = lengthMs(form, clock, setUp.grade.choruses);
    const chorusMs = lengthMs(form, clock, 1) ?? 0;
    let chorusesDone = 0;
    let frame = 0;
    const watch = (): void => {
      const playedMs = performance.now() - played.performance.downbeatAtMs;
      if (plannedMs !== null && playedMs > plannedMs + AFTER_END_MS) {
        return void latest.current.finish();
      }
      // The last notes of a chorus settle within its successor's first beat.
      const done = Math.floor((playedMs - clock.beatMs(0)) / chorusMs);
      if (nudge && plannedMs === null && done > chorusesDone) {
        chorusesDone = done;
        void latest.current.follow(played);
      }
      frame = requestAnimationFrame(watch);
    };
    frame = requestAnimationFrame(watch);
    return () => cancelAnimationFrame(frame);
  }, [phase, form, tempoBpm, setUp.grade.choruses, nudge]);

  return (
    <>
      <div className="row play-row">
        {phase.kind === 'playing' ? (
          <button type="button" className="main" onClick={() => void stop()}>
            Stop (Esc)
          </button>
        ) : (
          <>
            <button
              type="button"
              className="main"
              ref={startButton}
              disabled={phase.kind === 'starting'}
              onClick={() => begin()}
            >
              Start
            </button>
            <button type="button" onClick={onBack}>
              ← Charts
            </button>
          </>
        )}
        <h1 className="play-title">{form.title}</h1>
        <span className="soft">
          {setUp.grade.level} at {tempoBpm}, plan {setUp.plan}, in {setUp.key}
          {setUp.bars !== null && `, bars ${setUp.bars.from} to ${setUp.bars.to}`}
        </span>
        <KeyboardWords state={keyboards} />
      </div>
      {phase.kind === 'failed' && (
        <p className="notice" role="alert">
          {phase.sentence}
        </p>
      )}
      {announced !== null && (
        <p className="soft" role="status">
          {announced}
        </p>
      )}
      <BreakNotice
        playingSinceMs={phase.kind === 'playing' ? phase.played.performance.downbeatAtMs : null}
      />
      <LinePatterns />
      <LiveLine
        key={phase.kind === 'playing' ? phase.played.take.takeId : 'resting'}
        form={form}
        setUp={setUp}
        tempoBpm={tempoBpm}
        played={phase.kind === 'playing' ? phase.played : null}
      />
      {phase.kind !== 'playing' && (
        <>
          <KeyLayout />
          <p className="soft caution">{CAUTION}</p>
        </>
      )}
    </>
  );
}
