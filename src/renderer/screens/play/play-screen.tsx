/** Playing: the stage, and around it what starts and stops a run. Draws what the run says, and tells it what the player does. */

import './play.css';
import { useMemo, useState } from 'react';
import { flushSync } from 'react-dom';
import { BreakNotice } from '../../app/break-notice.tsx';
import { useProgram } from '../../app/program.tsx';
import { refusalWords } from '../../app/refusal-words.ts';
import { CAUTION } from '../../app/words.ts';
import { withSigns } from '../../look/signs.ts';
import { KeyboardNotice } from '../../midi/keyboard-notice.tsx';
import { KeyboardWords } from '../../midi/keyboard-words.tsx';
import { useKeys } from '../../midi/use-keys.ts';
import { useSoundedKeys } from '../../midi/use-sounded-keys.ts';
import type { RunWish } from '../../prepare/run-wish.ts';
import { type Practice, stateOf, toldWords } from '../../run/index.ts';
import { COMPUTER_KEYS } from '../../settings/devices.ts';
import { Legend } from '../../stage/legend.tsx';
import type { Sounding, StageScene, Told } from '../../stage/stage.ts';
import { StageIsland, StagePatterns } from '../../stage/stage-island.tsx';
import { useFullScreenKey } from './full-screen.ts';
import { KeyLayout } from './key-layout.tsx';
import { PlayButtons } from './play-buttons.tsx';
import { type RunWays, useRun } from './use-run.ts';

interface PlayScreenProps extends RunWays {
  readonly wish: RunWish;
  /** Whether the player has asked for the start already. */
  readonly atOnce: boolean;
  /** Leads to calibrating a keyboard, and back here. */
  readonly onCalibrate: (deviceName: string) => void;
}

export default function PlayScreen({ wish, atOnce, onCalibrate, ...ways }: PlayScreenProps) {
  const sound = useSoundedKeys();
  const [lastDevice, setLastDevice] = useState<string | null>(null);
  const keyboards = useKeys((key, deviceName) => {
    if (run.key(key, deviceName)) sound(key, deviceName);
    if (key.kind === 'noteOn') setLastDevice(deviceName);
  });
  const { run, snapshot, played, nextKey } = useRun(wish, atOnce, ways);
  const [isLegendOpen, setLegendOpen] = useState(false);
  useFullScreenKey();
  const state = stateOf(snapshot);
  const { practice, waiting, problem } = snapshot.context;
  const scene = useScene(practice);
  const [toldOf, setToldOf] = useState<{ readonly of: object | null; readonly told: Told } | null>(
    null,
  );
  const told = toldOf !== null && toldOf.of === played ? toldOf.told : null;
  const words = toldWords(snapshot, wish.heard);
  const isResting = state === 'ready' || state === 'failed';
  return (
    <div className={isResting ? 'stage resting' : 'stage'}>
      <StagePatterns />
      <header className="stage-head">
        <h1>{practice.form.title}</h1>
        <PracticeWords practice={practice} />
        {nextKey !== null && <span className="stage-then">then in {withSigns(nextKey)}</span>}
      </header>
      {practice.form.bars.length > 0 && (
        <StageIsland
          scene={scene}
          of={played ?? (state === 'hearing' ? HEARING : null)}
          sounding={(): Sounding | null => {
            const heard = run.heard();
            return run.played() ?? (heard === null ? null : { take: null, performance: heard });
          }}
          // Within the very frame: left to itself, React would draw after it, and be seen with the next.
          onTold={(news) => flushSync(() => setToldOf({ of: played, told: news }))}
        />
      )}
      {words !== null && state !== 'playing' && (
        <p className="stage-announced" role="status">
          {words}
        </p>
      )}
      <div className="stage-notes">
        <Trouble told={told} />
        {problem !== null && (
          <p className="notice" role="alert">
            {problem}
          </p>
        )}
        {waiting !== null && (
          <p className="notice" role="alert">
            {waiting} What was played is kept here and handed in as soon as that is possible; leave
            this page open.
          </p>
        )}
        <BreakNotice playingSinceMs={played === null ? null : played.performance.pageMs(0)} />
        {isResting && <KeyboardNotice state={keyboards} onCalibrate={onCalibrate} />}
        {(played === null || lastDevice === COMPUTER_KEYS) && <KeyLayout />}
        {isResting && <KeyboardWords state={keyboards} />}
        {(isResting || isLegendOpen) && <Legend lies="over" />}
        {state !== 'playing' && <p className="soft caution">{CAUTION}</p>}
      </div>
      <footer className="stage-foot">
        <PlayButtons snapshot={snapshot} send={run.actor.send} />
      </footer>
      {!isResting && (
        <button
          type="button"
          className="stage-marks"
          aria-expanded={isLegendOpen}
          onClick={() => setLegendOpen(!isLegendOpen)}
        >
          Marks
        </button>
      )}
      {!isResting && <Legend lies="beside" />}
    </div>
  );
}

/** Stands for an example that is heard, in place of a take. */
const HEARING = {};

/** The same for as long as nothing of it has changed: another one is drawn from nothing. */
function useScene({ form, setUp, tempoBpm }: Practice): StageScene {
  const { settings } = useProgram();
  const { level, slotsPerBeat, choruses } = setUp.grade;
  const { silentBars } = settings.sound;
  const { distanceM } = settings.look;
  return useMemo(
    () => ({ form, tempoBpm, level, slotsPerBeat, choruses, silentBars, distanceM }),
    [form, tempoBpm, level, slotsPerBeat, choruses, silentBars, distanceM],
  );
}

const SOUND_WORDS = {
  doubted: 'The sound has stopped or moved. Play on: what you hear is being found again.',
  wasBroken:
    'The sound was interrupted in this take. The notes it touched are not judged; those after it are. If it happens again, close other programs or use a wired output.',
} as const;

/** What is wrong while a take is played. */
function Trouble({ told }: { readonly told: Told | null }) {
  if (told === null) return null;
  const { disconnected, sound, journal } = told;
  return (
    <>
      {disconnected && (
        <p className="notice" role="alert">
          The keyboard is gone. What was played is kept; plug it in again and play on.
        </p>
      )}
      {sound !== 'runs' && (
        <p className="notice" role="alert">
          {SOUND_WORDS[sound]}
        </p>
      )}
      {journal.kind === 'waiting' && (
        <p className="notice" role="alert">
          {refusalWords(journal.refusal)}
        </p>
      )}
    </>
  );
}

function PracticeWords({ practice }: { readonly practice: Practice }) {
  const { level } = practice.setUp.grade;
  const { plan, key, bars } = practice.setUp;
  const range = bars === null ? [] : [`bars ${bars.from}–${bars.to}`];
  return <span>{[level, plan, withSigns(key), ...range, practice.tempoBpm].join(' · ')}</span>;
}
