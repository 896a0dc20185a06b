/** The player's own instrument as a sounding part: messages sent a little ahead, with their times. */

import { WebMidi } from 'webmidi';
import type { MidiSink } from '../audio/index.ts';
import { planMessages, RESTRUCK_MS, type TimedMessage } from './plan-messages.ts';

/** The part of an output port that is used. */
export interface MidiPort {
  send(bytes: readonly number[], atPageMs: number): void;
  /** Takes back what was sent for later, where the system can. */
  clear(): void;
}

/** Plays on a port; it is asked for each time, since it may be unplugged and plugged in again: null while it is gone. */
export function instrumentAt(port: () => MidiPort | null): MidiSink {
  const plan = planMessages();
  const send = (messages: readonly TimedMessage[]): void => {
    const present = messages.length === 0 ? null : port();
    for (const { bytes, atMs } of messages) present?.send(bytes, atMs);
  };
  return {
    looksAheadMs: RESTRUCK_MS + 1,
    take: plan.take,
    sendUntil: (scoreMs, pageMsOf) => send(plan.due(scoreMs, pageMsOf)),
    silence() {
      port()?.clear();
      send(plan.silence(performance.now()));
    },
  };
}

/** The instrument on a MIDI output, or null when it is not there. MIDI must have been enabled. */
export function instrumentOn(outputName: string): MidiSink | null {
  const port = (): MidiPort | null => {
    const output = WebMidi.outputs.find(({ name }) => name === outputName);
    if (output === undefined) return null;
    return {
      send: (bytes, time) => void output.send([...bytes], { time }),
      clear: () => void output.clear(),
    };
  };
  return port() === null ? null : instrumentAt(port);
}
