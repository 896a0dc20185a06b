/** A run for as long as its screen is there. The screen draws what the run says; nothing of it lives in React. */

import {
  useCallback,
  useEffect,
  useEffectEvent,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
  useSyncExternalStore,
} from 'react';
import { useProgram } from '../../app/program.tsx';
import type { RunWish } from '../../prepare/run-wish.ts';
import {
  inNextKey,
  type PlayedTake,
  type Run,
  type RunSnapshot,
  startRun,
  stateOf,
} from '../../run/index.ts';
import { deviceFor, sourceOfDevice } from '../../settings/devices.ts';

export interface RunWays {
  /** The take last kept is to be reviewed. */
  readonly onDone: (takeId: string) => void;
  /** There is nothing to review. */
  readonly onBack: () => void;
}

export interface DrawnRun {
  readonly run: Run;
  readonly snapshot: RunSnapshot;
  /** The take under way; null while none is. */
  readonly played: PlayedTake | null;
  /** The key that comes after the present take; null: none does. */
  readonly nextKey: string | null;
}

/** `atOnce`: the player has asked for the start already. */
export function useRun(wish: RunWish, atOnce: boolean, ways: RunWays): DrawnRun {
  const program = useProgram();
  const latest = useRef(program);
  useLayoutEffect(() => {
    latest.current = program;
  }, [program]);
  const [seed] = useState(() => Math.floor(Math.random() * 2 ** 31));
  const [run] = useState(() => {
    const settings = () => latest.current.settings;
    const means = {
      bridge: program.bridge,
      transport: program.transport,
      sound: () => settings().sound,
      startSignal: () => settings().start,
      sourceFor: (deviceName: string) => {
        const { devices } = latest.current;
        return sourceOfDevice(deviceFor(devices, deviceName, settings().sound.midiOutput));
      },
      notePlaying: program.notePlaying,
      seed,
    };
    return startRun(wish, means);
  });
  const { actor } = run;
  const subscribe = useCallback(
    (onChange: () => void) => {
      const subscription = actor.subscribe(onChange);
      return () => subscription.unsubscribe();
    },
    [actor],
  );
  const snapshot = useSyncExternalStore(subscribe, () => actor.getSnapshot());

  // Before the screen is seen: whoever sees Start may press Escape in that very moment.
  useLayoutEffect(() => {
    if (atOnce) actor.send({ type: 'START' });
    const leaving = new AbortController();
    const { signal } = leaving;
    window.addEventListener(
      'keydown',
      ({ key }) => {
        if (key === 'Escape') actor.send({ type: 'STOP' });
      },
      { signal },
    );
    // A page that is closed in mid-take falls silent at once; the host finishes what was played.
    window.addEventListener('pagehide', () => actor.send({ type: 'STOP' }), { signal });
    return () => {
      leaving.abort();
      actor.send({ type: 'LEAVE' });
    };
  }, [actor, atOnce]);

  const state = stateOf(snapshot);
  const { lastTakeId } = snapshot.context;
  const onDone = useEffectEvent(ways.onDone);
  const onBack = useEffectEvent(ways.onBack);
  useEffect(() => {
    if (state === 'ended' && lastTakeId !== null) onDone(lastTakeId);
    if (state === 'left') onBack();
  }, [state, lastTakeId]);
  const isTaking = state === 'countIn' || state === 'playing';
  const { practice } = snapshot.context;
  const nextKey = useMemo(() => {
    if (wish.keyCycle === null) return null;
    const { setUp, form } = practice;
    const isEndless = setUp.grade.choruses === null || form.bars.length === 0;
    return isEndless
      ? null
      : (inNextKey(setUp, wish.setUp.key, wish.keyCycle, seed)?.setUp.key ?? null);
  }, [practice, wish, seed]);
  return { run, snapshot, played: isTaking ? run.played() : null, nextKey };
}
