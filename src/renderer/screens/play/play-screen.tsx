/** Playing: the chart's page with the line drawn through it as it is played. Draws what the run says, and tells it what the player does. */

import './play.css';
import { useState } from 'react';
import { BreakNotice } from '../../app/break-notice.tsx';
import { CAUTION } from '../../app/words.ts';
import { LinePatterns } from '../../chart-page/line-in-bar.tsx';
import { withSigns } from '../../look/signs.ts';
import { KeyboardNotice } from '../../midi/keyboard-notice.tsx';
import { KeyboardWords } from '../../midi/keyboard-words.tsx';
import { useKeys } from '../../midi/use-keys.ts';
import { useSoundedKeys } from '../../midi/use-sounded-keys.ts';
import type { RunWish } from '../../prepare/run-wish.ts';
import { type Practice, stateOf, toldWords } from '../../run/index.ts';
import { COMPUTER_KEYS } from '../../settings/devices.ts';
import { KeyLayout } from './key-layout.tsx';
import { LiveLine } from './live-line.tsx';
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
  const { run, snapshot, played } = useRun(wish, atOnce, ways);
  const state = stateOf(snapshot);
  const { practice, waiting, problem } = snapshot.context;
  const { form, setUp, tempoBpm } = practice;
  const told = toldWords(snapshot, wish.heard);
  return (
    <>
      <div className="row play-row">
        <PlayButtons snapshot={snapshot} send={run.actor.send} />
        <h1 className="play-title">{form.title}</h1>
        <PracticeWords practice={practice} />
        <KeyboardWords state={keyboards} />
      </div>
      {state === 'ready' && <KeyboardNotice state={keyboards} onCalibrate={onCalibrate} />}
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
      {told !== null && (
        <p className="soft" role="status">
          {told}
        </p>
      )}
      <BreakNotice playingSinceMs={played === null ? null : played.performance.pageMs(0)} />
      <LinePatterns />
      <LiveLine
        key={played?.take.takeId ?? 'resting'}
        form={form}
        setUp={setUp}
        tempoBpm={tempoBpm}
        played={played}
      />
      {(played === null || lastDevice === COMPUTER_KEYS) && <KeyLayout />}
      {state !== 'playing' && <p className="soft caution">{CAUTION}</p>}
    </>
  );
}

function PracticeWords({ practice }: { readonly practice: Practice }) {
  const { level } = practice.setUp.grade;
  const { plan, key, bars } = practice.setUp;
  return (
    <span className="soft">
      {level} at {practice.tempoBpm}, plan {plan}, in {withSigns(key)}
      {bars !== null && `, bars ${bars.from} to ${bars.to}`}
    </span>
  );
}
