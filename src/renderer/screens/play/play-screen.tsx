/** Playing: the chart's page with the line drawn through it as it is played. */

import './play.css';
import { useEffect, useMemo, useRef, useState } from 'react';
import type { Bridge, TakeSetUp } from '../../../../shared/bridge/index.ts';
import { type Form, NO_CHORD } from '../../../core/chart/index.ts';
import { clickTimes, lengthMs } from '../../audio/click-times.ts';
import { type ClickPerformance, performClicks } from '../../audio/stage.ts';
import { ChartPage } from '../../chart-page/chart-page.tsx';
import { ChordName } from '../../chart-page/chord-name.tsx';
import { LineInBar, LinePatterns } from '../../chart-page/line-in-bar.tsx';
import { listenToComputerKeys } from '../../midi/computer-keys.ts';
import { type KeyboardsState, listenToKeyboards } from '../../midi/keyboards.ts';
import { type LiveTake, type PlayedKey, startLiveTake } from '../../session/live-take.ts';
import { type BarDrawing, drawChorus, registerFor } from './line-model.ts';
import { placeInForm, toneMoves } from './palette-words.ts';
import { totalsInWords } from './totals.ts';

const COUNT_IN_BARS = 1;
/** After the last planned beat the last note may still come, and sound. */
const AFTER_END_MS = 1500;

interface PlayScreenProps {
  readonly bridge: Bridge;
  readonly form: Form;
  readonly setUp: TakeSetUp;
  readonly onDone: (takeId: string) => void;
  readonly onBack: () => void;
}

type Phase =
  | { readonly kind: 'ready' }
  | { readonly kind: 'starting' }
  | { readonly kind: 'playing'; readonly take: LiveTake; readonly clicks: ClickPerformance }
  | { readonly kind: 'failed'; readonly sentence: string };

export default function PlayScreen({ bridge, form, setUp, onDone, onBack }: PlayScreenProps) {
  const [phase, setPhase] = useState<Phase>({ kind: 'ready' });
  const [keyboards, setKeyboards] = useState<KeyboardsState | null>(null);
  const [, setFrame] = useState(0);
  const takeRef = useRef<LiveTake | null>(null);
  const startButton = useRef<HTMLButtonElement>(null);
  const tempo = setUp.grade.tempo;
  const tempoBpm = tempo.kind === 'steady' ? tempo.tempoBpm : 60;

  useEffect(() => startButton.current?.focus(), []);

  useEffect(() => {
    const leaving = new AbortController();
    const onKey = (key: PlayedKey): void => takeRef.current?.key(key);
    listenToComputerKeys(window, onKey, leaving.signal);
    void listenToKeyboards(onKey, setKeyboards, leaving.signal);
    return () => leaving.abort();
  }, []);

  async function start(): Promise<void> {
    setPhase({ kind: 'starting' });
    const begun = await bridge.ask('takes.begin', { setUp });
    if (!begun.ok) {
      return setPhase({
        kind: 'failed',
        sentence: `${begun.refusal.message} ${begun.refusal.remedy}`,
      });
    }
    try {
      const times = clickTimes(form, tempoBpm, setUp.grade.choruses, COUNT_IN_BARS);
      const clicks = await performClicks(times);
      const { takeId } = begun.value;
      const take = startLiveTake(bridge, takeId, form, setUp, clicks.downbeatAtMs, () => {});
      takeRef.current = take;
      setPhase({ kind: 'playing', take, clicks });
    } catch (error) {
      const why = error instanceof Error ? error.message : String(error);
      setPhase({
        kind: 'failed',
        sentence: `The sound could not be started (${why}). Check the computer’s sound output and start again.`,
      });
    }
  }

  async function stop(): Promise<void> {
    if (phase.kind !== 'playing') return onBack();
    takeRef.current = null;
    phase.clicks.stop();
    const { saved } = await phase.take.end(performance.now());
    if (saved) return onDone(phase.take.takeId);
    setPhase({
      kind: 'failed',
      sentence:
        'The take could not be finished on disk. What was stored of it is kept and offered among the takes of this chart.',
    });
  }
  const stopRef = useRef(stop);
  stopRef.current = stop;

  useEffect(() => {
    const onKeyDown = (event: KeyboardEvent): void => {
      if (event.key === 'Escape') void stopRef.current();
    };
    window.addEventListener('keydown', onKeyDown);
    return () => window.removeEventListener('keydown', onKeyDown);
  }, []);

  useEffect(() => {
    if (phase.kind !== 'playing') return;
    const plannedMs = lengthMs(form, tempoBpm, setUp.grade.choruses);
    let frame = 0;
    const paint = (): void => {
      const nowMs = performance.now();
      phase.take.tick(nowMs);
      setFrame((count) => count + 1);
      const playedMs = nowMs - phase.clicks.downbeatAtMs;
      if (plannedMs !== null && playedMs > plannedMs + AFTER_END_MS) void stopRef.current();
      else frame = requestAnimationFrame(paint);
    };
    frame = requestAnimationFrame(paint);
    return () => cancelAnimationFrame(frame);
  }, [phase, form, tempoBpm, setUp.grade.choruses]);

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
              onClick={() => void start()}
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
        </span>
        <KeyboardWords state={keyboards} />
      </div>
      {phase.kind === 'failed' && (
        <p className="notice" role="alert">
          {phase.sentence}
        </p>
      )}
      <LinePatterns />
      <LiveLine
        form={form}
        setUp={setUp}
        take={phase.kind === 'playing' ? phase.take : null}
        beat={
          phase.kind === 'playing'
            ? ((performance.now() - phase.clicks.downbeatAtMs) * tempoBpm) / 60_000
            : null
        }
      />
    </>
  );
}

function KeyboardWords({ state }: { readonly state: KeyboardsState | null }) {
  if (state === null) return null;
  if (state.kind === 'missing') return <span className="soft">{state.sentence}</span>;
  const names = state.names.join(', ');
  return (
    <span className="soft">
      {names === ''
        ? 'No MIDI keyboard yet: plug one in, or play the computer keys (Z to M, Q to I are two octaves from C4).'
        : `Listening to ${names} and the computer keys.`}
    </span>
  );
}

interface LiveLineProps {
  readonly form: Form;
  readonly setUp: TakeSetUp;
  readonly take: LiveTake | null;
  readonly beat: number | null;
}

const NOTHING: ReadonlyMap<number, BarDrawing> = new Map();

function LiveLine({ form, setUp, take, beat }: LiveLineProps) {
  const verdicts = take?.snapshot() ?? null;
  const place = placeInForm(form, beat ?? 0);
  const chorus = place?.chorus ?? 1;
  const { level, slotsPerBeat } = setUp.grade;
  const drawings = useMemo(() => {
    if (verdicts === null) return NOTHING;
    const { settled, heard, changes } = verdicts;
    const settledMidis = settled.flatMap(({ note }) => (note === null ? [] : [note.midi]));
    const heardMidis = [...heard.values()].map(({ midi }) => midi);
    const register = registerFor([...settledMidis, ...heardMidis]);
    const source = { form, level, slotsPerBeat, settled, heard, changes };
    return new Map(drawChorus(source, chorus, register).map((drawing) => [drawing.bar, drawing]));
  }, [verdicts, form, level, slotsPerBeat, chorus]);
  if (place === null) return null;
  const counting = beat !== null && beat < 0;
  return (
    <>
      <div className="now">
        <div className="now-chord" aria-live="off">
          <ChordName text={place.chord.symbol?.text ?? NO_CHORD} />
        </div>
        <div className="next-chord">
          <span className="soft">{counting ? 'count-in' : 'then'} </span>
          <ChordName text={place.next.symbol?.text ?? NO_CHORD} />
        </div>
        <Tones chord={place.chord} next={place.next} near={place.beatsLeft <= 1} />
        <div className="totals">
          {verdicts === null
            ? 'Start, wait for the count-in, and keep the line going.'
            : totalsInWords(verdicts)}
          {verdicts?.disconnected && (
            <p className="notice">
              The keyboard is gone. What was played is kept; plug it in again and play on.
            </p>
          )}
          {verdicts?.journal.kind === 'waiting' && (
            <p className="notice">
              {verdicts.journal.refusal.message} {verdicts.journal.refusal.remedy}
            </p>
          )}
        </div>
      </div>
      <ChartPage form={form} currentBar={beat === null || counting ? null : place.bar}>
        {({ bar }) => <LineInBar drawing={drawings.get(bar)} />}
      </ChartPage>
    </>
  );
}

interface TonesProps {
  readonly chord: Parameters<typeof toneMoves>[0];
  readonly next: Parameters<typeof toneMoves>[1];
  /** Whether the change is near: then the tones that leave and arrive are told apart. */
  readonly near: boolean;
}

const MOVE_WORDS = { stays: '', leaves: 'leaves', arrives: 'arrives' } as const;

function Tones({ chord, next, near }: TonesProps) {
  const moves = toneMoves(chord, near ? next : chord);
  return (
    <ul className="tones" aria-label="Tones of the palette">
      {moves.map(({ note, pc, move }) => (
        <li key={`${pc} ${move}`} className={`tone ${move}`}>
          {note.replace('b', '♭').replace('#', '♯')}
          <small>{MOVE_WORDS[move]}</small>
        </li>
      ))}
    </ul>
  );
}
