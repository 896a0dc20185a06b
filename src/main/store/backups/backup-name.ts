/**
 * The names of backups: `library-000042-20260314T092653Z.sqlite`. The number grows by one with each, so that their
 * order stands whatever the computer's clock did in between; the time is that clock's, in UTC.
 */

export interface BackupName {
  readonly name: string;
  readonly ordinal: number;
  /** ms since 1970, by the clock of its day; whole seconds. */
  readonly madeAtMs: number;
}

const PATTERN = /^library-(\d{6,})-(\d{4})(\d\d)(\d\d)T(\d\d)(\d\d)(\d\d)Z\.sqlite$/;

/** A time as `20260314T092653Z`, good in names of files everywhere. Source: ISO 8601, basic format. */
export function timeStamp(atMs: number): string {
  return `${new Date(atMs).toISOString().slice(0, 19).replace(/[-:]/g, '')}Z`;
}

/** The name of a backup. */
export function formatBackupName(ordinal: number, madeAtMs: number): string {
  return `library-${String(ordinal).padStart(6, '0')}-${timeStamp(madeAtMs)}.sqlite`;
}

/** The inverse of `formatBackupName`; null for any other name. */
export function parseBackupName(name: string): BackupName | null {
  const match = PATTERN.exec(name);
  if (match === null) return null;
  const [, ordinal = '', year, month, day, hour, minute, second] = match;
  const madeAtMs = Date.parse(`${year}-${month}-${day}T${hour}:${minute}:${second}Z`);
  return Number.isNaN(madeAtMs) ? null : { name, ordinal: Number(ordinal), madeAtMs };
}
