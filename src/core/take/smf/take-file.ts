/** A take as the bytes of a MIDI file that other programs open, and that grades as the take does. */

import { quartersPerBeat } from '../../chart/meter.ts';
import type { Meter } from '../../chart/model.ts';
import { type Key, keyFifths } from '../../theory/key.ts';
import type { TakeEvents, TakeTempo, TempoPoint } from '../model.ts';
import { encodeSmf } from './encode.ts';
import { smfFromTake } from './smf-from-take.ts';

export interface TakeForMidi {
  readonly take: TakeEvents;
  readonly tempo: TakeTempo;
  /** The chart's meter and the key played in: what stands at the start of the file. */
  readonly meter: Meter;
  readonly key: Key;
  readonly name: string;
}

/** Writes the file. Times are rounded to ticks; see `TICKS_PER_QUARTER`. */
export function encodeTakeFile({ take, tempo, meter, key, name }: TakeForMidi): Uint8Array {
  return encodeSmf(
    smfFromTake({
      take,
      tempo: tempoPoints(tempo, meter),
      meter,
      keyFifths: keyFifths(key),
      minor: key.mode === 'minor',
      name,
      texts: [],
    }),
  );
}

function tempoPoints(tempo: TakeTempo, meter: Meter): readonly TempoPoint[] {
  if (tempo.kind === 'mapped') return tempo.points;
  const msPerQuarter = 60_000 / tempo.tempoBpm / quartersPerBeat(meter);
  return [{ atMs: 0, atQuarter: 0, msPerQuarter }];
}
