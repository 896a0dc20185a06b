/** What can be wrong with an archive, as a refusal: what, where in it, and what to do. */

import { refusal, StoreError } from '../store/index.ts';

/** An archive that is refused; nothing of it was imported. */
export class ArchiveError extends StoreError {
  constructor(what: string, remedy: string) {
    super(refusal('badRequest', `The archive was not imported: ${what}`, remedy));
  }
}

export const EXPORT_AGAIN =
  'Nothing was changed. Export it again, or fetch it again from where it was kept.';
