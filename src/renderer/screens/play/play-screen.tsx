/** Playing: the chart's page with the line drawn through it as it is played. */

import './play.css';
import { useEffect, useRef } from 'react';
import { BreakNotice } from '../../app/break-notice.tsx';
import { useProgram } from '../../app/program.tsx';
import { CAUTION } from '../../app/words.ts';
import { LinePatterns } from '../../chart-page/line-in-bar.tsx';
import { withSigns } from '../../look/signs.ts';
import { KeyboardNotice } from '../../midi/keyboard-notice.tsx';
import { KeyboardWords } from '../../midi/keyboard-words.tsx';
import { playedDevice, useKeys } from '../../midi/use-keys.ts';
import { useSoundedKeys } from '../../midi/use-sounded-keys.ts';
import type { PlayedKey } from '../../session/live-take.ts';
import { KeyLayout } from './key-layout.tsx';
import { LiveLine } from './live-line.tsx';
import { isSignal } from './start-signal.ts';
import { type RunWish, useRun } from './use-run.ts';

interface PlayScreenProps extends RunWish {
  /** Leads to calibrating a keyboard, and back here. */
  readonly onCalibrate: (deviceName: string) => void;
}

export default function PlayScreen({ onCalibrate, ...wish }: PlayScreenProps) {
  const { settings } = useProgram();
  const sound = useSoundedKeys();
  const lastDevice = useRef<string | null>(null);
  const startButton = useRef<HTMLButtonElement>(null);
  useEffect(() => startButton.current?.focus(), []);

  const keyboards = useKeys((key: PlayedKey, deviceName: string) => {
    if (key.kind === 'noteOn') lastDevice.current = deviceName;
    const now = run.now();
    if (isSignal(key, settings.start)) {
      if (now.kind === 'playing' || now.kind === 'listening') void run.stop();
      else if (now.kind !== 'starting') run.begin();
      return;
    }
    sound(key, deviceName);
    if (now.kind === 'playing') now.played.take.key(key);
  });
  const run = useRun(wish, () => playedDevice(keyboards, lastDevice.current));
  const { phase, form, setUp, tempoBpm, announced } = run;
  const isSounding = phase.kind === 'playing' || phase.kind === 'listening';

  return (
    <>
      <div className="row play-row">
        {isSounding ? (
          <button type="button" className="main" data-focus-home onClick={() => void run.stop()}>
            Stop (Esc)
          </button>
        ) : (
          <>
            <button
              type="button"
              className="main"
              ref={startButton}
              disabled={phase.kind === 'starting'}
              onClick={run.begin}
            >
              Start
            </button>
            <button type="button" onClick={wish.onBack}>
              ← Charts
            </button>
          </>
        )}
        <h1 className="play-title">{form.title}</h1>
        <span className="soft">
          {setUp.grade.level} at {tempoBpm}, plan {setUp.plan}, in {withSigns(setUp.key)}
          {setUp.bars !== null && `, bars ${setUp.bars.from} to ${setUp.bars.to}`}
        </span>
        <KeyboardWords state={keyboards} />
      </div>
      {phase.kind === 'ready' && <KeyboardNotice state={keyboards} onCalibrate={onCalibrate} />}
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
      <BreakNotice playingSinceMs={phase.kind === 'playing' ? phase.played.downbeatPageMs : null} />
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
