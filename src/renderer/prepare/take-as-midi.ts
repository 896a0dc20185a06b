/** A take or a line as the bytes of a MIDI file that grades as it does here. */

import { type Form, quartersPerBeat } from '../../core/chart/index.ts';
import type { TakeEvents, TakeTempo } from '../../core/take/model.ts';
import { encodeSmf, smfFromTake } from '../../core/take/smf/index.ts';
import { keyFifths } from '../../core/theory/index.ts';

/** The form gives meter and key, `what` is added to its title as the name of the track. */
export function takeAsMidi(
  form: Form,
  take: TakeEvents,
  tempo: TakeTempo,
  what: string,
): Uint8Array {
  const points =
    tempo.kind === 'mapped'
      ? tempo.points
      : [
          {
            atMs: 0,
            atQuarter: 0,
            msPerQuarter: 60_000 / tempo.tempoBpm / quartersPerBeat(form.meter),
          },
        ];
  return encodeSmf(
    smfFromTake({
      take,
      tempo: points,
      meter: form.meter,
      keyFifths: keyFifths(form.key),
      minor: form.key.mode === 'minor',
      name: `${form.title}, ${what}`,
      texts: [],
    }),
  );
}
