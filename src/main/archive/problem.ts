/** What can be wrong with an archive, as a refusal: what, where in it, and what to do. */

import { refusal, StoreError } from '../store/index.ts';

/** Names in an archive may be thousands of letters long; what is said about them is not. */
const MOST_TOLD = 300;

/** A sentence of names from an archive as it is shown. */
export function cutShort(words: string): string {
  return words.length <= MOST_TOLD ? words : `${words.slice(0, MOST_TOLD)}…`;
}

/** An archive that is refused; nothing of it was imported. */
export class ArchiveError extends StoreError {
  constructor(what: string, remedy: string) {
    super(refusal('badRequest', `The archive was not imported: ${cutShort(what)}`, remedy));
  }
}

export const EXPORT_AGAIN =
  'Nothing was changed. Export it again, or fetch it again from where it was kept.';
