/** What can be wrong with an archive, as a refusal: what, and where in it. */

import { type ArchiveFault, archiveFaultSchema } from '../../../shared/bridge/index.ts';
import { refusal, StoreError } from '../store/index.ts';

/** An archive that is refused; nothing of it was imported. */
export class ArchiveError extends StoreError {
  constructor(fault: ArchiveFault) {
    super(refusal('badRequest', { kind: 'archive', fault: shortened(fault) }));
  }
}

/** Names in an archive may be thousands of letters long; what is said about them is not. */
const LONGEST_NAME = 300;

function shortened(fault: ArchiveFault): ArchiveFault {
  const short = Object.entries(fault).map(([name, value]) => [
    name,
    typeof value === 'string' && value.length > LONGEST_NAME
      ? `${value.slice(0, LONGEST_NAME)}…`
      : value,
  ]);
  return archiveFaultSchema.parse(Object.fromEntries(short));
}

export function messageOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
