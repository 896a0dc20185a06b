/** Holes and habits of a map in sentences, those of one chord together. */

import type { Finding, MappedTakes, Stretch } from '../map/index.ts';

type Placed = Exclude<Finding['feature'], { readonly kind: 'octave' }>;

/**
 * A sentence for each chord or change with something to say, and for each octave; the largest first. Holes and habits are named
 * alike: neither is a fault.
 */
export function mapFindings({ findings, stretches }: MappedTakes): readonly string[] {
  const groups = new Map<string, { readonly head: string; readonly parts: string[] }>();
  for (const finding of findings) {
    const { feature } = finding;
    if (feature.kind === 'octave') {
      const from = `C${feature.octave} to B${feature.octave}`;
      groups.set(from, { head: from, parts: [howOften('', finding, 'notes')] });
      continue;
    }
    const stretch = stretches[feature.stretch];
    if (stretch === undefined) continue;
    const head = headOf(feature, stretch);
    const group = groups.get(head) ?? { head, parts: [] };
    group.parts.push(partOf(finding, feature, stretch));
    groups.set(head, group);
  }
  return [...groups.values()].map(({ head, parts }) => `${head}: ${parts.join('; ')}.`);
}

function headOf({ kind }: Placed, { chord, place }: Stretch): string {
  if (kind !== 'tone') return `the change to ${chord} in bar ${place.bar}`;
  const bars = place.toBar === place.bar ? `bar ${place.bar}` : `bars ${place.bar}–${place.toBar}`;
  return `${chord} in ${bars}`;
}

function partOf(finding: Finding, feature: Placed, { names, pcs }: Stretch): string {
  if (feature.kind === 'crossing') return howOften(feature.direction, finding, 'crossings');
  const tone = names[pcs.indexOf(feature.pc)] ?? '';
  if (feature.kind === 'tone') return howOften(`the ${tone}`, finding, 'notes');
  return howOften(`arriving on ${tone}`, finding, 'arrivals');
}

/** `the A never, in 120 notes`; `arriving on C always, in 24 arrivals`; `falling 1 of 24 crossings, 12 at random`. */
function howOften(what: string, { count, of, expected }: Finding, counted: string): string {
  const random = Math.round(of * expected);
  const often =
    count === 0
      ? `never, in ${of} ${counted}`
      : count === of
        ? `always, in ${of} ${counted}`
        : `${count} of ${of} ${counted}, about ${random} at random`;
  return what === '' ? often : `${what} ${often}`;
}
