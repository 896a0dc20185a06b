/** A written line as a MIDI file, as if it had been played exactly. */

import type { Form } from '../chart/index.ts';
import { encodeTakeFile } from '../take/smf/index.ts';
import { takeOfLine } from './line-take.ts';
import type { WrittenLine } from './written-line.ts';

/** The bytes of the file. In: the form the line was written over, a steady tempo in beats per minute, the track's name. */
export function lineMidi(
  { meter, key }: Form,
  line: WrittenLine,
  tempoBpm: number,
  name: string,
): Uint8Array {
  return encodeTakeFile({
    take: takeOfLine(line, tempoBpm),
    tempo: { kind: 'steady', tempoBpm },
    ...{ meter, key, name, settings: null, decision: null },
  });
}
