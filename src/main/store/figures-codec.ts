/**
 * A take's figures as they are stored: what every list needs as text, and what each chord came to, which is most of it
 * and seldom asked for, packed beside it.
 */

import { deflateRawSync, inflateRawSync } from 'node:zlib';
import { type TakeFigures, takeFiguresSchema } from '../../../shared/bridge/index.ts';

export interface StoredFigures {
  readonly figures: string | null;
  /** JSON, deflated. Source: RFC 1951. */
  readonly chords: Uint8Array | null;
}

/** A take of four hours has chords of a few hundred kilobytes. */
const MOST_BYTES = 64 * 2 ** 20;

export function packFigures(figures: TakeFigures | null): StoredFigures {
  if (figures === null) return { figures: null, chords: null };
  const { evidence, ...rest } = figures;
  if (evidence?.chords === undefined) return { figures: JSON.stringify(figures), chords: null };
  const { chords, ...slim } = evidence;
  return {
    figures: JSON.stringify({ ...rest, evidence: slim }),
    chords: deflateRawSync(JSON.stringify(chords)),
  };
}

/** Figures whole again. Throws when the packed part is damaged. */
export function unpackFigures(text: unknown, chords: unknown): TakeFigures | null {
  if (typeof text !== 'string') return null;
  const figures = takeFiguresSchema.parse(JSON.parse(text));
  if (!(chords instanceof Uint8Array) || figures.evidence === null) return figures;
  const json = inflateRawSync(chords, { maxOutputLength: MOST_BYTES }).toString();
  return takeFiguresSchema.parse({
    ...figures,
    evidence: { ...figures.evidence, chords: JSON.parse(json) },
  });
}
