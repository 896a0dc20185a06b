/** A take as the bytes of a MIDI file that other programs open, and that grades as the take does. */

import { quartersPerBeat } from '../../chart/meter.ts';
import type { Meter } from '../../chart/model.ts';
import type { ReadingDecision } from '../../grading/readings/index.ts';
import { type Key, keyFifths } from '../../theory/key.ts';
import type { TakeEvents, TakeTempo, TempoPoint } from '../model.ts';
import { encodeSmf } from './encode.ts';
import { type FileSettings, formatRemarks } from './remarks.ts';
import { smfFromTake } from './smf-from-take.ts';

export interface TakeForMidi {
  readonly take: TakeEvents;
  readonly tempo: TakeTempo;
  /** The chart's meter and the key played in: what stands at the start of the file. */
  readonly meter: Meter;
  readonly key: Key;
  readonly name: string;
  /** What it was graded by, and what was said to another reading of it; null where there is nothing to say. */
  readonly settings: FileSettings | null;
  readonly decision: ReadingDecision | null;
}

/**
 * Writes the file: each keyboard on a channel of its own, what stands beside the notes in texts (see `remarks.ts`). Times of
 * notes are rounded to ticks; see `TICKS_PER_QUARTER`.
 */
export function encodeTakeFile(input: TakeForMidi): Uint8Array {
  const { take, tempo, meter, key, name, settings, decision } = input;
  const { sources, breaks } = take;
  return encodeSmf(
    smfFromTake({
      take,
      tempo: tempoPoints(tempo, meter),
      meter,
      keyFifths: keyFifths(key),
      minor: key.mode === 'minor',
      name,
      texts: formatRemarks({
        sources,
        breaks,
        settings: settings && withoutTempo(settings),
        decision,
      }),
    }),
  );
}

/** The tempo is the file's: a player may set it otherwise in another program. */
function withoutTempo(settings: FileSettings & { readonly tempo?: unknown }): FileSettings {
  const { tempo: _tempo, ...rest } = settings;
  return rest;
}

function tempoPoints(tempo: TakeTempo, meter: Meter): readonly TempoPoint[] {
  if (tempo.kind === 'mapped') return tempo.points;
  const msPerQuarter = 60_000 / tempo.tempoBpm / quartersPerBeat(meter);
  return [{ atMs: 0, atQuarter: 0, msPerQuarter }];
}
