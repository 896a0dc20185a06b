/** Archives between the host and the page's own dialogs, piece by piece. */

import type { Bridge, CallReply, Refusal, Reply } from '../../../shared/bridge/index.ts';
import { base64FromBytes, bytesFromBase64 } from '../app/base64.ts';

/** Bytes of one piece: what the bridge takes at once. */
const PIECE_BYTES = 4 * 2 ** 20;

export type Exported =
  | {
      readonly ok: true;
      readonly told: CallReply<'archive.export'>;
      readonly pieces: readonly Uint8Array<ArrayBuffer>[];
    }
  | { readonly ok: false; readonly refusal: Refusal };

/** Has the library exported and fetches the archive. `onProgress` is told the share fetched, 0 to 1. */
export async function fetchArchive(
  bridge: Pick<Bridge, 'ask'>,
  onProgress: (share: number) => void,
): Promise<Exported> {
  const exported = await bridge.ask('archive.export', {});
  if (!exported.ok) return exported;
  const { name, bytes } = exported.value;
  const pieces: Uint8Array<ArrayBuffer>[] = [];
  for (let from = 0; from < bytes; ) {
    const piece = await bridge.ask('archive.read', { name, from });
    if (!piece.ok) return piece;
    const read = bytesFromBase64(piece.value.base64);
    if (read.length === 0) return { ok: false, refusal: BROKE_OFF };
    pieces.push(read);
    from += read.length;
    onProgress(from / bytes);
  }
  await bridge.ask('archive.release', { name });
  return { ok: true, told: exported.value, pieces };
}

const BROKE_OFF = {
  code: 'internal',
  why: { kind: 'plain', what: 'archiveBrokeOff' },
} as const;

/** Hands a file over and has it imported. `onProgress` is told the share handed over, 0 to 1. */
export async function sendArchive(
  bridge: Pick<Bridge, 'ask'>,
  file: Pick<Blob, 'size' | 'slice'>,
  upload: string,
  onProgress: (share: number) => void,
): Promise<Reply<'archive.import'>> {
  for (let from = 0; from < file.size; from += PIECE_BYTES) {
    const piece = await file.slice(from, from + PIECE_BYTES).arrayBuffer();
    const base64 = base64FromBytes(new Uint8Array(piece));
    const put = await bridge.ask('archive.put', { upload, from, base64 });
    if (!put.ok) return put;
    onProgress(Math.min(1, (from + PIECE_BYTES) / file.size));
  }
  return bridge.ask('archive.import', { upload });
}
