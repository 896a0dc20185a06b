/** The MIDI file of a take in an archive. */

import { parseChart, parseKeyText } from '../../core/chart/index.ts';
import { encodeTakeFile } from '../../core/take/smf/index.ts';
import type { KeptTake } from '../store/index.ts';

/** Where a chart's text cannot be read any more, its meter and key are put down as these. */
const UNREADABLE = { meter: { count: 4, unit: 4 }, key: { tonic: 0, mode: 'major' } } as const;

/** The bytes of the file, for other programs: the program itself reads the JSON beside it. */
export function takeMidi(kept: KeptTake): Uint8Array {
  const { setUp, events, endMs, sources, breaks, decision } = kept;
  const chart = parseChart(setUp.chartText);
  const key = parseKeyText(setUp.key);
  return encodeTakeFile({
    take: { events, endMs, sources, breaks },
    tempo: setUp.grade.tempo,
    meter: chart.ok ? chart.value.meter : UNREADABLE.meter,
    key: key.ok ? key.value : UNREADABLE.key,
    name: `${setUp.chartTitle}, ${setUp.grade.level}`,
    settings: setUp.grade,
    decision,
  });
}
