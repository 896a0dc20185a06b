/** A map as data, schema `linekeeper.map/1`, exactly as `docs/reports.md` lists it. */

import type { Form } from '../chart/index.ts';
import type { MappedTakes } from './chart-map.ts';
import type { Finding } from './holes.ts';
import { longestRun, notesOn } from './sum.ts';

export const MAP_SCHEMA = 'linekeeper.map/1';

export function mapJson({ title, plan }: Form, mapped: MappedTakes) {
  const { stretches, map, findings, waiting, takes, leftOut } = mapped;
  const named = (stretch: number, pc: number): string => {
    const at = stretches[stretch];
    return at?.names[at.pcs.indexOf(pc)] ?? '';
  };
  const placed = (stretch: number) => {
    const { place, chord = '' } = stretches[stretch] ?? {};
    return { bar: place?.bar ?? 0, beat: place?.beat ?? 0, toBar: place?.toBar ?? 0, chord };
  };
  const told = ({ kind, feature, ...counts }: Finding) => ({
    ...{ kind, of: feature.kind },
    ...(feature.kind === 'octave' ? { octave: feature.octave } : placed(feature.stretch)),
    ...('pc' in feature && { tone: named(feature.stretch, feature.pc) }),
    ...(feature.kind === 'crossing' && { direction: feature.direction }),
    count: counts.count,
    among: counts.of,
    expected: counts.expected,
    interval: { lower: counts.lower, upper: counts.upper },
  });
  return {
    schema: MAP_SCHEMA,
    ...{ chart: title, plan, takes, leftOut, waiting },
    chords: map.chords.map((chord, stretch) => ({
      ...placed(stretch),
      palette: stretches[stretch]?.palette ?? '',
      notes: notesOn(chord),
      outside: chord.outside,
      tones: chord.tones.map((tone) => ({ name: named(stretch, tone.pc), ...tone })),
    })),
    changes: map.changes.map(({ place, intervals }) => ({
      ...placed(stretches.findIndex((stretch) => stretch.place === place)),
      intervals,
    })),
    line: { runs: map.runs, turns: map.turns, longestRun: longestRun(map) },
    findings: findings.map(told),
  };
}
