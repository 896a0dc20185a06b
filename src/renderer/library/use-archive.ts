/** Export and import as a screen shows them: idle, under way, done, refused. */

import { useState } from 'react';
import type { Bridge } from '../../../shared/bridge/index.ts';
import { unreadWords } from '../../../shared/notice-words.ts';
import { refusalWords } from '../app/refusal-words.ts';
import { saveFile } from '../app/save-file.ts';
import { fetchArchive, sendArchive } from './archive-transfer.ts';
import { exportWords, importWords, toldLines } from './library-words.ts';

export type ArchiveState =
  | { readonly kind: 'idle' }
  | { readonly kind: 'working'; readonly what: string; readonly share: number | null }
  | { readonly kind: 'done'; readonly words: string; readonly lines: readonly string[] }
  | { readonly kind: 'failed'; readonly words: string };

export interface Archive {
  readonly state: ArchiveState;
  exportAll(): Promise<void>;
  importFile(file: File): Promise<void>;
}

export function useArchive(bridge: Pick<Bridge, 'ask'>): Archive {
  const [state, setState] = useState<ArchiveState>({ kind: 'idle' });
  return {
    state,
    async exportAll() {
      const what = 'Exporting';
      setState({ kind: 'working', what, share: null });
      const exported = await fetchArchive(bridge, (share) =>
        setState({ kind: 'working', what, share }),
      );
      if (!exported.ok) return setState({ kind: 'failed', words: refusalWords(exported.refusal) });
      saveFile(exported.told.name, new Blob([...exported.pieces]), 'application/zip');
      const { told } = exported;
      setState({ kind: 'done', words: exportWords(told), lines: told.unread.map(unreadWords) });
    },
    async importFile(file) {
      const what = 'Importing';
      setState({ kind: 'working', what, share: null });
      const reply = await sendArchive(bridge, file, crypto.randomUUID(), (share) =>
        // What is handed over has still to be read and stored.
        setState({ kind: 'working', what, share: share < 1 ? share : null }),
      );
      setState(
        reply.ok
          ? { kind: 'done', words: importWords(reply.value), lines: toldLines(reply.value) }
          : { kind: 'failed', words: refusalWords(reply.refusal) },
      );
    },
  };
}
