/** A refused or failed call as it crosses the bridge: codes and values. Words are made of it in `shared/refusal-words.ts`. */

import { z } from '../schema.ts';

/** A name or path, or what another program said. */
const text = z.string().max(2000);
const count = z.number().min(0);

/** Refusals that say all by their kind. */
export const PLAIN_REFUSALS = [
  'noNote',
  'takeTooLong',
  'takeFinished',
  'takePartDamaged',
  'noSuchTake',
  'noSuchChart',
  'noSuchDemo',
  'noSuchBackup',
  'noSuchArchive',
  'nothingPlayed',
  'shippedChart',
  'librarySound',
  'pieceMissing',
  'notOurPage',
  'openInOwnWindow',
  /** The host in the browser, and that of the desktop, do not answer. */
  'hostSilent',
  'desktopSilent',
  /** The host went away while it had the call. */
  'hostLeft',
  'tooMuchAtOnce',
  'archiveBrokeOff',
] as const;

/** What a disk, a file or the database fails with. */
export const SYSTEM_CAUSES = [
  'otherWriter',
  'databaseReadOnly',
  'diskError',
  'databaseCorrupt',
  'databaseFull',
  'cannotOpen',
  'notADatabase',
  'noRight',
  'diskReadOnly',
  'diskFull',
  'quotaFull',
  'fileTooLarge',
  'fileGone',
] as const;
export type SystemCause = (typeof SYSTEM_CAUSES)[number];

/** In what way a library is damaged. */
export const DAMAGES = [
  'pagesTorn',
  'pagesUnreadable',
  'fileGone',
  'contentsGone',
  'foreignDatabase',
  'notADatabase',
] as const;

const path = text;
const detail = text;

function fault<Kind extends string, Shape extends z.ZodRawShape>(kind: Kind, shape: Shape) {
  return z.strictObject({ kind: z.literal(kind), ...shape });
}

/** What is wrong with an archive: nothing of it was imported. */
export const archiveFaultSchema = z.discriminatedUnion('kind', [
  fault('notAZip', { detail }),
  fault('listSpoilt', { detail }),
  fault('tooManyFiles', { files: count, most: count }),
  fault('twice', { path }),
  fault('locked', { path }),
  fault('unfolds', { path, times: count }),
  fault('overlapping', {}),
  fault('archiveTooLarge', { bytes: count, mostBytes: count }),
  /** Null: all its files together. */
  fault('tooLarge', { path: path.nullable(), bytes: count, mostBytes: count }),
  /** Without a detail its sum is wrong. */
  fault('spoilt', { path, detail: detail.nullable() }),
  fault('lacks', { path }),
  fault('noManifest', { path }),
  fault('otherSchema', { schema: text, known: text }),
  fault('changed', { path, manifest: path }),
  fault('noChart', { path, file: text }),
  fault('noJson', { path, detail }),
  fault('noUtf8', { path }),
  fault('nestedTooDeep', { path }),
  fault('misshapen', { path, place: text, detail }),
]);
export type ArchiveFault = z.infer<typeof archiveFaultSchema>;

const firstCauses = [
  fault('plain', { what: z.enum(PLAIN_REFUSALS) }),
  /** `place` is a folder or file where it is known. */
  fault('system', { cause: z.enum(SYSTEM_CAUSES), place: text.nullable() }),
  /** A slip of our own. */
  fault('internal', { detail, place: text.nullable() }),
  fault('playedElsewhere', { chartTitle: text.nullable() }),
  fault('eventsMissing', { from: count, to: count }),
  fault('libraryGone', { file: path }),
  fault('libraryReadOnly', { file: path }),
  fault('newerLibrary', { schema: count, known: count }),
  fault('libraryDamaged', { damage: z.enum(DAMAGES), detail: detail.nullable() }),
  fault('unknownCall', { name: text }),
  fault('misshapenCall', { name: text, place: text, detail }),
  fault('archive', { fault: archiveFaultSchema }),
] as const;

const causeSchema = z.discriminatedUnion('kind', firstCauses);

export const refusalSchema = z.strictObject({
  /** What a program does about it. */
  code: z.enum([
    'unknownCall',
    'badRequest',
    'notFound',
    'notAllowed',
    /** Another page plays a take. */
    'busy',
    'diskFull',
    'readOnly',
    'damaged',
    /** The library is not where it was opened: it can be put back. */
    'libraryGone',
    'tooLarge',
    'internal',
    /** The host is gone, or does not answer; nobody knows whether a call that changes something was done. */
    'unreachable',
  ]),
  /** What a player is told of it. */
  why: z.discriminatedUnion('kind', [
    ...firstCauses,
    fault('backupFailed', { folder: path, because: causeSchema }),
  ]),
});
export type Refusal = z.infer<typeof refusalSchema>;
export type RefusalCause = Refusal['why'];
