/** The program: one screen at a time, the way between them, and the files handed to it. */

import { lazy, Suspense, useCallback, useEffect, useRef, useState } from 'react';
import type { Bridge } from '../../../shared/bridge/index.ts';
import { importChart } from '../prepare/import-chart.ts';
import { ChooseScreen } from '../screens/choose/choose-screen.tsx';
import { isChartFile, isMidiFile, listenToDrops, type OpenedFile } from './opened-file.ts';
import { ProgramProvider } from './program.tsx';
import type { Screen } from './screen.ts';

const PlayScreen = lazy(() => import('../screens/play/play-screen.tsx'));
const ReviewScreen = lazy(() => import('../screens/review/review-screen.tsx'));
const OpenScreen = lazy(() => import('../screens/open/open-screen.tsx'));
const SettingsScreen = lazy(() => import('../screens/settings/settings-screen.tsx'));
const CalibrateScreen = lazy(() => import('../screens/calibrate/calibrate-screen.tsx'));
const HelpDialog = lazy(() => import('../screens/help/help-dialog.tsx'));

export function App({ bridge }: { readonly bridge: Bridge }) {
  return (
    <ProgramProvider bridge={bridge}>
      <Screens bridge={bridge} />
    </ProgramProvider>
  );
}

function Screens({ bridge }: { readonly bridge: Bridge }) {
  const [screen, setScreen] = useState<Screen>({ name: 'choose' });
  const [chartId, setChartId] = useState<string | null>(null);
  const [problems, setProblems] = useState<readonly string[]>([]);
  const [isHelpOpen, setHelpOpen] = useState(false);
  const screenRef = useRef(screen);
  screenRef.current = screen;

  const go = useCallback((next: Screen) => {
    setProblems([]);
    setScreen(next);
  }, []);
  const choose = useCallback(() => go({ name: 'choose' }), [go]);
  const review = useCallback((takeId: string) => go({ name: 'review', takeId }), [go]);

  const openFile = useCallback(
    async (file: OpenedFile): Promise<void> => {
      if (screenRef.current.name === 'play') {
        return setProblems([`${file.name} was not opened: stop playing, then open it again.`]);
      }
      if (isMidiFile(file.name)) return go({ name: 'open', file });
      if (!isChartFile(file.name)) {
        return setProblems([`${file.name} was not opened: charts end in .chart, takes in .mid.`]);
      }
      const imported = await importChart(bridge, file);
      if (!imported.ok)
        return setProblems([`${file.name} was not imported:`, ...imported.problems]);
      setChartId(imported.value.chartId);
      choose();
    },
    [bridge, go, choose],
  );

  useEffect(() => {
    const leaving = new AbortController();
    listenToDrops(window, (file) => void openFile(file), leaving.signal);
    bridge.onPush((push) => {
      if (push.kind === 'file') void openFile(fileOfPush(push));
      if (push.kind !== 'command' || screenRef.current.name === 'play') return;
      if (push.name === 'charts') choose();
      if (push.name === 'settings') go({ name: 'settings' });
      if (push.name === 'help') setHelpOpen(true);
    }, leaving.signal);
    window.addEventListener(
      'keydown',
      (event) => {
        if (event.key !== 'F1' || screenRef.current.name === 'play') return;
        event.preventDefault();
        setHelpOpen(true);
      },
      { signal: leaving.signal },
    );
    return () => leaving.abort();
  }, [bridge, openFile, choose, go]);

  return (
    <>
      {screen.name !== 'play' && <Head screen={screen} go={go} onHelp={() => setHelpOpen(true)} />}
      <main className="page">
        {problems.length > 0 && (
          <p className="notice" role="alert">
            {problems.join('\n')}
          </p>
        )}
        <Suspense fallback={<p>One moment …</p>}>
          {screen.name === 'choose' && (
            <ChooseScreen
              chartId={chartId}
              onChart={setChartId}
              onPlay={(form, setUp, nudge) => go({ name: 'play', form, setUp, nudge })}
              onReview={review}
              onFile={(file) => void openFile(file)}
            />
          )}
          {screen.name === 'play' && (
            <PlayScreen
              form={screen.form}
              setUp={screen.setUp}
              nudge={screen.nudge}
              onDone={review}
              onBack={choose}
            />
          )}
          {screen.name === 'review' && (
            <ReviewScreen
              key={screen.takeId}
              takeId={screen.takeId}
              onBack={choose}
              onPlay={(form, setUp) => go({ name: 'play', form, setUp, nudge: false })}
            />
          )}
          {screen.name === 'open' && (
            <OpenScreen
              key={screen.file.name}
              file={screen.file}
              chartId={chartId}
              onReview={review}
              onBack={choose}
            />
          )}
          {screen.name === 'settings' && (
            <SettingsScreen onCalibrate={(device) => go({ name: 'calibrate', device })} />
          )}
          {screen.name === 'calibrate' && (
            <CalibrateScreen device={screen.device} onDone={() => go({ name: 'settings' })} />
          )}
          {isHelpOpen && <HelpDialog screen={screen.name} onClose={() => setHelpOpen(false)} />}
        </Suspense>
      </main>
    </>
  );
}

interface HeadProps {
  readonly screen: Screen;
  readonly go: (screen: Screen) => void;
  readonly onHelp: () => void;
}

function Head({ screen, go, onHelp }: HeadProps) {
  return (
    <header className="head">
      <h1>Linekeeper</h1>
      <nav aria-label="Program">
        <button
          type="button"
          aria-current={screen.name === 'choose' ? 'page' : undefined}
          onClick={() => go({ name: 'choose' })}
        >
          Charts
        </button>
        <button
          type="button"
          aria-current={screen.name === 'settings' ? 'page' : undefined}
          onClick={() => go({ name: 'settings' })}
        >
          Settings
        </button>
        <button type="button" onClick={onHelp}>
          Help (F1)
        </button>
      </nav>
    </header>
  );
}

function fileOfPush(push: { readonly name: string; readonly base64: string }): OpenedFile {
  const bytes = Uint8Array.from(atob(push.base64), (letter) => letter.charCodeAt(0));
  return { name: push.name, bytes };
}
