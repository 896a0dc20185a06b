/** Calibration: play along with the click for 16 beats, see the spread, keep the offset. */

import './calibrate.css';
import { useEffect, useRef, useState } from 'react';
import { ms } from '../../../core/findings/index.ts';
import { useProgram } from '../../app/program.tsx';
import { isStopped, type Performance, type SoundEvent } from '../../audio/index.ts';
import {
  CALIBRATION_BEAT_MS,
  CALIBRATION_BEATS,
  type Calibration,
  calibrate,
  FEWEST_KEYS,
} from '../../calibration/estimate.ts';
import { FailureNotice } from '../../look/failure-notice.tsx';
import { KeyboardWords } from '../../midi/keyboard-words.tsx';
import { useKeys } from '../../midi/use-keys.ts';
import { stageSettings } from '../../session/accompaniment.ts';
import { deviceFor } from '../../settings/devices.ts';
import { SpreadPicture } from './spread-picture.tsx';

/** Clicks before the first that counts. */
const COUNT_IN_BEATS = 4;
const AFTER_LAST_MS = 500;

type Phase =
  | { readonly kind: 'ready' }
  | { readonly kind: 'starting' }
  | { readonly kind: 'playing'; readonly performance: Performance }
  | { readonly kind: 'done'; readonly found: Calibration; readonly systemMs: number }
  | { readonly kind: 'failed'; readonly sentence: string };

function* clicks(): Generator<SoundEvent> {
  for (let beat = -COUNT_IN_BEATS; beat < CALIBRATION_BEATS; beat++) {
    const strength = beat % 4 === 0 ? 'accent' : 'beat';
    yield { kind: 'click', atMs: beat * CALIBRATION_BEAT_MS, strength };
  }
}

interface CalibrateScreenProps {
  readonly device: string;
  /** Where the way leads back to. */
  readonly backTo: string;
  readonly onDone: () => void;
}

export default function CalibrateScreen({ device, backTo, onDone }: CalibrateScreenProps) {
  const { transport, settings, devices, saveDevice } = useProgram();
  const [phase, setPhase] = useState<Phase>({ kind: 'ready' });
  const [heard, setHeard] = useState(0);
  const [failure, setFailure] = useState<string | null>(null);
  const onsets = useRef<number[]>([]);
  const running = useRef<Performance | null>(null);
  const leaving = useRef(new AbortController());
  const remembered = deviceFor(devices, device, settings.sound.midiOutput);

  const keyboards = useKeys((key, deviceName) => {
    if (key.kind !== 'noteOn' || deviceName !== device || running.current === null) return;
    onsets.current.push(running.current.scoreMs(key.atMs));
    setHeard(onsets.current.length);
  });

  useEffect(() => {
    const left = new AbortController();
    leaving.current = left;
    return () => left.abort();
  }, []);

  async function start(): Promise<void> {
    if (phase.kind === 'starting' || phase.kind === 'playing') return;
    onsets.current = [];
    setHeard(0);
    setPhase({ kind: 'starting' });
    const { signal } = leaving.current;
    try {
      const performance = await transport.play(clicks(), stageSettings(settings.sound), signal);
      running.current = performance;
      setPhase({ kind: 'playing', performance });
    } catch (error) {
      if (isStopped(error)) return setPhase({ kind: 'ready' });
      setPhase({
        kind: 'failed',
        sentence: error instanceof Error ? error.message : String(error),
      });
    }
  }

  useEffect(() => {
    if (phase.kind !== 'playing') return;
    const { performance: started } = phase;
    const endAtMs = started.pageMs(CALIBRATION_BEATS * CALIBRATION_BEAT_MS + AFTER_LAST_MS);
    const timer = setTimeout(() => {
      started.stop();
      running.current = null;
      const isBroken = (atMs: number): boolean =>
        started.breaks().some(({ fromMs, toMs }) => atMs >= fromMs && atMs <= toMs);
      const found = calibrate(onsets.current.filter((atMs) => !isBroken(atMs)));
      setPhase({ kind: 'done', found, systemMs: started.outputLatencyMs });
    }, endAtMs - performance.now());
    return () => clearTimeout(timer);
  }, [phase]);

  async function keep(latencyMs: number, spreadMs: number): Promise<void> {
    const problem = await saveDevice({ ...remembered, latencyMs, spreadMs });
    setFailure(problem);
    if (problem === null) onDone();
  }

  return (
    <>
      <button type="button" className="back" onClick={onDone}>
        ← {backTo}
      </button>
      <h2 tabIndex={-1} data-focus-home>
        Calibrate {device}
      </h2>
      <p>
        After four clicks, play one key with each of the next {CALIBRATION_BEATS}: any key, as you
        would with a metronome. How late your keys arrive is then taken off every take played with
        this keyboard and {remembered.outputName}.
      </p>
      <p>
        <KeyboardWords state={keyboards} />
      </p>
      <FailureNotice words={failure} />
      {phase.kind === 'failed' && (
        <p className="notice" role="alert">
          {phase.sentence}
        </p>
      )}
      {phase.kind === 'playing' ? (
        <p className="calibrate-count" role="status">
          {heard} keys heard
        </p>
      ) : (
        <button
          type="button"
          className="main"
          disabled={phase.kind === 'starting'}
          onClick={() => void start()}
        >
          {phase.kind === 'done' ? 'Once more' : 'Start the click'}
        </button>
      )}
      {phase.kind === 'done' && phase.found.kind === 'tooFew' && (
        <p className="notice" role="alert">
          {phase.found.keys} keys lay near a click; {FEWEST_KEYS} are needed. Is {device} the
          keyboard you played? Start once more and play a key with each click.
        </p>
      )}
      {phase.kind === 'done' && phase.found.kind === 'found' && (
        <Found
          found={phase.found}
          systemMs={phase.systemMs}
          onKeep={(latencyMs, spreadMs) => void keep(latencyMs, spreadMs)}
        />
      )}
    </>
  );
}

interface FoundProps {
  readonly found: Extract<Calibration, { kind: 'found' }>;
  readonly systemMs: number;
  readonly onKeep: (latencyMs: number, spreadMs: number) => void;
}

function Found({ found, systemMs, onKeep }: FoundProps) {
  const { latencyMs, spreadMs, keys, isLoose } = found;
  const counting = keys.filter(({ counts }) => counts).length;
  const side = latencyMs < 0 ? 'before' : 'after';
  return (
    <>
      <p role="status">
        Your keys arrive {ms(Math.abs(latencyMs))} {side} the click, with a spread of {ms(spreadMs)}{' '}
        ({counting} of {keys.length} keys count). The system says its sound is{' '}
        {Math.round(systemMs)} ms late; that is taken off already.
      </p>
      <SpreadPicture keys={keys} latencyMs={latencyMs} />
      {isLoose && (
        <p className="notice">
          That is a wide spread. A wireless connection can cause it, or a cold hand: try once more
          before you keep it.
        </p>
      )}
      <p className="soft">
        Most people play a little ahead of a click. That habit is part of the figure, as it is part
        of everything you play with this keyboard.
      </p>
      <button type="button" className="main" onClick={() => onKeep(latencyMs, spreadMs)}>
        Keep {ms(latencyMs)}
      </button>
    </>
  );
}
