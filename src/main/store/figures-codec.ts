/**
 * A take's figures as they are stored: the few that every list shows as text, and the evidence weeks are judged by, which
 * is most of them, packed beside it.
 */

import { deflateRawSync, inflateRawSync } from 'node:zlib';
import { type TakeFigures, takeFiguresSchema } from '../../../shared/bridge/index.ts';

export interface StoredFigures {
  readonly figures: string | null;
  /** JSON, deflated (RFC 1951). */
  readonly evidence: Uint8Array | null;
}

/** A take of four hours has evidence of a few hundred kilobytes. */
const MOST_BYTES = 64 * 2 ** 20;

export function packFigures(figures: TakeFigures | null): StoredFigures {
  if (figures === null) return { figures: null, evidence: null };
  const { evidence, ...rest } = figures;
  return {
    figures: JSON.stringify({ ...rest, evidence: null }),
    evidence: evidence === null ? null : deflateRawSync(JSON.stringify(evidence)),
  };
}

/** Figures whole again; those stored before evidence was packed have it in the text. Throws when a part is damaged. */
export function unpackFigures(text: unknown, evidence: unknown): TakeFigures | null {
  if (typeof text !== 'string') return null;
  const figures: unknown = JSON.parse(text);
  return takeFiguresSchema.parse(
    evidence instanceof Uint8Array && typeof figures === 'object'
      ? { ...figures, evidence: inflateEvidence(evidence) }
      : figures,
  );
}

/** The evidence as it was packed, which was after it had been checked. */
export function inflateEvidence(evidence: Uint8Array): unknown {
  return JSON.parse(inflateRawSync(evidence, { maxOutputLength: MOST_BYTES }).toString());
}
