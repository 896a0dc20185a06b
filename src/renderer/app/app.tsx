/** The program: one screen at a time, the way between them, and the files handed to it. */

import { lazy, Suspense, useEffect, useEffectEvent, useRef, useState } from 'react';
import type { Bridge, Push } from '../../../shared/bridge/index.ts';
import { COMMANDS, type CommandName } from '../../../shared/commands.ts';
import { useRefresh } from '../data/index.ts';
import { heardWishOf } from '../prepare/heard-wish.ts';
import type { ImportState } from '../prepare/import-charts.ts';
import { ALONE, type RunManner, type RunWish } from '../prepare/run-wish.ts';
import { ChooseScreen } from '../screens/choose/choose-screen.tsx';
import { bytesFromBase64 } from './base64.ts';
import { DOORS, Head } from './head.tsx';
import { ImportNotice } from './import-notice.tsx';
import { keepFocus } from './keep-focus.ts';
import {
  isChartFile,
  isHandOverFile,
  isMidiFile,
  listenToDrops,
  type WaitingFile,
} from './opened-file.ts';
import { PlayedElsewhere } from './played-elsewhere.tsx';
import { ProgramProvider } from './program.tsx';
import type { Screen } from './screen.ts';
import { useScreens } from './use-screens.ts';
import { WhenCounted } from './when-counted.tsx';
import { WithheldNotice } from './withheld-notice.tsx';

const EditScreen = lazy(() => import('../screens/edit/edit-screen.tsx'));
const loadPlayScreen = () => import('../screens/play/play-screen.tsx');
const PlayScreen = lazy(loadPlayScreen);
const ReviewScreen = lazy(() => import('../screens/review/review-screen.tsx'));
const OpenScreen = lazy(() => import('../screens/open/open-screen.tsx'));
const TodayScreen = lazy(() => import('../screens/today/today-screen.tsx'));
const ProgressScreen = lazy(() => import('../screens/progress/progress-screen.tsx'));
const JournalScreen = lazy(() => import('../screens/journal/journal-screen.tsx'));
const SheetScreen = lazy(() => import('../screens/sheet/sheet-screen.tsx'));
const SettingsScreen = lazy(() => import('../screens/settings/settings-screen.tsx'));
const CalibrateScreen = lazy(() => import('../screens/calibrate/calibrate-screen.tsx'));
const HelpDialog = lazy(() => import('../screens/help/help-dialog.tsx'));

/** Where the calibration leads back to; else the settings. */
const BACK_WORDS: Readonly<Partial<Record<Screen['name'], string>>> = {
  play: 'Play',
  review: 'Review',
};

export function App({ bridge }: { readonly bridge: Bridge }) {
  return (
    <ProgramProvider bridge={bridge}>
      <Screens bridge={bridge} />
    </ProgramProvider>
  );
}

/** Fetches the screens most often gone to while nobody waits for them; with one come all, they are built into one file. */
function useScreensSoon(): void {
  useEffect(() => {
    // What fails is fetched again when it is asked for.
    const idle = requestIdleCallback(() => void loadPlayScreen().catch(() => {}));
    return () => cancelIdleCallback(idle);
  }, []);
}

function Screens({ bridge }: { readonly bridge: Bridge }) {
  useScreensSoon();
  const [screen, goTo] = useScreens();
  /** Counts what was handed over: the first screen begins anew with what a file set. */
  const [handedOver, setHandedOver] = useState(0);
  const [chartId, setChartId] = useState<string | null>(null);
  const [problems, setProblems] = useState<readonly string[]>([]);
  const [importing, setImporting] = useState<ImportState | null>(null);
  const cancelImport = useRef<AbortController | null>(null);
  const [isHelpOpen, setHelpOpen] = useState(false);
  const refresh = useRefresh();
  const page = useRef<HTMLElement>(null);

  function go(next: Screen): void {
    setProblems([]);
    goTo(next);
  }
  const choose = (): void => go({ name: 'choose' });
  const review = (takeId: string, manner: RunManner = ALONE): void =>
    go({ name: 'review', takeId, manner });
  const play = (wish: RunWish, atOnce = false): void => go({ name: 'play', wish, atOnce });

  /** Nothing takes a player away from a take but its own buttons. */
  function obey(command: CommandName): void {
    if (screen.name === 'play') return;
    const door = DOORS[command];
    if (door === undefined) setHelpOpen(true);
    else go(door);
  }

  async function openFiles(files: readonly WaitingFile[]): Promise<void> {
    const [first] = files;
    if (first === undefined) return;
    if (screen.name === 'play') {
      return setProblems([`${first.name} was not opened: stop playing, then open it again.`]);
    }
    if (files.length === 1 && isMidiFile(first.name)) {
      return go({ name: 'open', file: await first.read() });
    }
    if (files.length === 1 && isHandOverFile(first.name)) {
      const { readHandOver, takeHandOver } = await import('../prepare/hand-over.ts');
      const handed = readHandOver((await first.read()).bytes);
      const taken = handed.ok ? await takeHandOver(bridge, handed.value) : handed;
      if (!taken.ok) return setProblems([`${first.name} was not opened:`, ...taken.problems]);
      // The first screen begins with what is stored when it is drawn.
      await refresh('settings.get');
      setChartId(taken.value.chartId);
      setHandedOver((count) => count + 1);
      return taken.value.takeId === null ? choose() : review(taken.value.takeId);
    }
    const charts = files.filter(({ name }) => isChartFile(name));
    if (charts.length === 0) return setProblems([refusedFile(first.name)]);
    const cancelling = new AbortController();
    cancelImport.current?.abort();
    cancelImport.current = cancelling;
    setProblems([]);
    const { importCharts } = await import('../prepare/import-charts.ts');
    const { chartIds } = await importCharts(bridge, charts, setImporting, cancelling.signal);
    const imported = chartIds.at(-1);
    if (imported === undefined) return;
    setChartId(imported);
    choose();
  }

  useEffect(() => {
    const leaving = new AbortController();
    if (page.current !== null) keepFocus(page.current, leaving.signal);
    return () => leaving.abort();
  }, []);

  const onFiles = useEffectEvent((files: readonly WaitingFile[]) => void openFiles(files));
  const onPush = useEffectEvent((push: Push) => {
    if (push.kind === 'file') void openFiles([fileOfPush(push)]);
    if (push.kind === 'command') obey(push.name);
  });
  const onKeyDown = useEffectEvent((event: KeyboardEvent) => {
    const command = COMMANDS.find(({ key }) => key === event.key);
    if (command === undefined || screen.name === 'play') return;
    event.preventDefault();
    obey(command.name);
  });
  useEffect(() => {
    const leaving = new AbortController();
    const { signal } = leaving;
    listenToDrops(window, (files) => onFiles(files), signal);
    bridge.onPush((push) => onPush(push), signal);
    window.addEventListener('keydown', (event) => onKeyDown(event), { signal });
    return () => leaving.abort();
  }, [bridge]);

  return (
    <>
      {screen.name !== 'play' && <Head screen={screen} onCommand={obey} />}
      <main className="page" ref={page} tabIndex={-1}>
        <PlayedElsewhere />
        {/* The first screen sounds only when it is touched. */}
        {screen.name !== 'choose' && <WithheldNotice />}
        {problems.length > 0 && (
          <p className="notice" role="alert">
            {problems.join('\n')}
          </p>
        )}
        {importing !== null && (
          <ImportNotice
            state={importing}
            onCancel={() => cancelImport.current?.abort()}
            onRead={() => setImporting(null)}
          />
        )}
        <Suspense fallback={<p>One moment …</p>}>
          {screen.name === 'choose' && (
            <ChooseScreen
              key={handedOver}
              chartId={chartId}
              onChart={setChartId}
              onPlay={(form, setUp, choice) => {
                const { nudge, keyCycle } = choice;
                play({ form, setUp, nudge, keyCycle, heard: heardWishOf(choice) });
              }}
              onReview={(takeId) => review(takeId)}
              onSheet={(sheet) => go({ name: 'sheet', ...sheet })}
              onEdit={(edited) => go({ name: 'edit', chartId: edited })}
              onFiles={(files) => void openFiles(files)}
            />
          )}
          {screen.name === 'edit' && (
            <EditScreen
              key={screen.chartId}
              chartId={screen.chartId}
              onDone={(edited) => {
                setChartId(edited);
                choose();
              }}
            />
          )}
          {screen.name === 'play' && (
            <PlayScreen
              wish={screen.wish}
              atOnce={screen.atOnce}
              onDone={(takeId) => review(takeId, screen.wish)}
              onBack={choose}
              onCalibrate={(device) =>
                go({ name: 'calibrate', device, back: { ...screen, atOnce: false } })
              }
            />
          )}
          {screen.name === 'review' && (
            <ReviewScreen
              key={screen.takeId}
              takeId={screen.takeId}
              onBack={choose}
              onPlay={(again, nudge) => play({ ...again, ...ALONE, nudge })}
              onAgain={(again) => play({ ...screen.manner, ...again }, true)}
              onCalibrate={(device) => go({ name: 'calibrate', device, back: screen })}
            />
          )}
          {screen.name === 'open' && (
            <OpenScreen
              key={screen.file.name}
              file={screen.file}
              chartId={chartId}
              onReview={(takeId) => review(takeId)}
              onBack={choose}
            />
          )}
          {screen.name === 'sheet' && <SheetScreen {...screen} onBack={choose} />}
          {screen.name === 'today' && (
            <WhenCounted heading="Today">
              <TodayScreen onPlay={(again, nudge) => play({ ...again, ...ALONE, nudge })} />
            </WhenCounted>
          )}
          {screen.name === 'progress' && (
            <WhenCounted heading="Progress">
              <ProgressScreen
                onReview={(takeId) => review(takeId)}
                onPlay={(again, nudge) => play({ ...again, ...ALONE, nudge })}
              />
            </WhenCounted>
          )}
          {screen.name === 'journal' && <JournalScreen onReview={(takeId) => review(takeId)} />}
          {screen.name === 'settings' && (
            <SettingsScreen
              onCalibrate={(device) => go({ name: 'calibrate', device, back: screen })}
            />
          )}
          {screen.name === 'calibrate' && (
            <CalibrateScreen
              device={screen.device}
              backTo={BACK_WORDS[screen.back.name] ?? 'Settings'}
              onDone={() => go(screen.back)}
            />
          )}
          {isHelpOpen && <HelpDialog screen={screen.name} onClose={() => setHelpOpen(false)} />}
        </Suspense>
      </main>
    </>
  );
}

function refusedFile(name: string): string {
  return `${name} was not opened: charts end in .changes, .chart, .musicxml or .mxl, takes in .mid, hand-over files in .linekeeper.`;
}

function fileOfPush({
  name,
  base64,
}: {
  readonly name: string;
  readonly base64: string;
}): WaitingFile {
  const bytes = bytesFromBase64(base64);
  return { name, read: () => Promise.resolve({ name, bytes }) };
}
