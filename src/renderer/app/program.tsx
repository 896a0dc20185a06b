/** What every screen shares: the bridge, the owner of sound, the player's settings, what is remembered of keyboards. */

import {
  createContext,
  type ReactNode,
  useCallback,
  useContext,
  useEffect,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
} from 'react';
import type { Bridge, Device } from '../../../shared/bridge/index.ts';
import { createTransport, type Transport } from '../audio/index.ts';
import { useAnswer } from '../data/index.ts';
import { createKeyboards, type Keyboards } from '../midi/keyboards.ts';
import { minutesSinceBreak, type PlayedSpan } from '../session/playing-time.ts';
import { deviceFor } from '../settings/devices.ts';
import {
  type PlayerSettings,
  readPlayerSettings,
  storePlayerSettings,
} from '../settings/player-settings.ts';
import { refusalWords } from './refusal-words.ts';

export interface Program {
  readonly bridge: Bridge;
  /** The one owner of sound: whatever is heard is played through it. */
  readonly transport: Transport;
  readonly settings: PlayerSettings;
  /** Takes effect at once, and is stored. */
  changeSettings(next: PlayerSettings): void;
  readonly devices: readonly Device[];
  /** Stores what is to be remembered of a device; answers what went wrong, or null. */
  saveDevice(device: Device): Promise<string | null>;
  /** All keys that are played, on whatever keyboard; screens hear them by `useKeys`. */
  readonly keyboards: Keyboards;
  /** Notes a stretch of playing, so that breaks can be called for. */
  notePlaying(span: PlayedSpan): void;
  /** Minutes played since the last break, with what is being played since a time. */
  minutesPlayed(playingSinceMs: number | null): number;
}

const NO_DEVICES: readonly Device[] = [];

const ProgramContext = createContext<Program | null>(null);

/** The program around a screen. */
export function useProgram(): Program {
  const program = useContext(ProgramContext);
  if (program === null) throw new Error('a screen outside the program');
  return program;
}

interface ProgramProviderProps {
  readonly bridge: Bridge;
  readonly children: ReactNode;
}

/** One listener for the page: its ports and their names outlive every screen. */
function useKeyboards(devices: readonly Device[], midiOutput: string | null): Keyboards {
  const latest = useRef({ devices, midiOutput });
  useLayoutEffect(() => {
    latest.current = { devices, midiOutput };
  }, [devices, midiOutput]);
  const [page] = useState(() => {
    const leaving = new AbortController();
    const channelOf = (deviceName: string): number | null =>
      deviceFor(latest.current.devices, deviceName, latest.current.midiOutput).channel;
    return { leaving, keyboards: createKeyboards(channelOf, leaving.signal) };
  });
  useEffect(() => () => page.leaving.abort(), [page]);
  return page.keyboards;
}

/** Reads settings and devices once, and again when another window changes them. */
export function ProgramProvider({ bridge, children }: ProgramProviderProps) {
  const [transport] = useState(createTransport);
  const stored = useAnswer('settings.get', {});
  const listed = useAnswer('devices.list', {});
  const devices = listed.value ?? NO_DEVICES;
  const [told, setTold] = useState<string | null>(null);
  // What was just chosen is shown before it is stored.
  const [ahead, setAhead] = useState<PlayerSettings | null>(null);
  const read = useMemo(() => readPlayerSettings(stored.value ?? {}), [stored.value]);
  const settings = ahead ?? read;
  const keyboards = useKeyboards(devices, settings.sound.midiOutput);

  const changeSettings = useCallback(
    (next: PlayerSettings) => {
      setAhead(next);
      void bridge.ask('settings.set', { values: storePlayerSettings(next) }).then((reply) => {
        if (!reply.ok) setTold(`The settings are not stored. ${refusalWords(reply.refusal)}`);
      });
    },
    [bridge],
  );
  const saveDevice = useCallback(
    async (device: Device) => {
      const reply = await bridge.ask('devices.save', { device });
      return reply.ok ? null : refusalWords(reply.refusal);
    },
    [bridge],
  );
  const spans = useRef<readonly PlayedSpan[]>([]);
  const notePlaying = useCallback((span: PlayedSpan) => {
    spans.current = [...spans.current, span];
  }, []);
  const minutesPlayed = useCallback((sinceMs: number | null) => {
    const nowMs = performance.now();
    const open = sinceMs === null ? [] : [{ fromMs: sinceMs, toMs: nowMs }];
    return minutesSinceBreak([...spans.current, ...open], nowMs);
  }, []);
  useEffect(() => {
    document.documentElement.dataset['theme'] = settings.look.theme;
  }, [settings.look]);

  const program = useMemo(
    () => ({
      bridge,
      transport,
      settings,
      changeSettings,
      devices,
      saveDevice,
      keyboards,
      notePlaying,
      minutesPlayed,
    }),
    [
      bridge,
      transport,
      settings,
      changeSettings,
      devices,
      saveDevice,
      keyboards,
      notePlaying,
      minutesPlayed,
    ],
  );
  const failure = told ?? stored.failure ?? listed.failure;
  return (
    <ProgramContext value={program}>
      {failure !== null && (
        <div className="notice told" role="alert">
          {failure}{' '}
          <button type="button" onClick={() => setTold(null)}>
            I have read this
          </button>
        </div>
      )}
      {stored.value === null && stored.failure === null ? <p>One moment …</p> : children}
    </ProgramContext>
  );
}
