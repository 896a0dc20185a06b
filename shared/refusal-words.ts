/** Refusals in words, for the page and the terminal alike: what happened, and what to do. */

import { NOT_GRADABLE } from '../src/core/grading/size.ts';
import type {
  ArchiveFault,
  DAMAGES,
  PLAIN_REFUSALS,
  Refusal,
  RefusalCause,
  SystemCause,
} from './bridge/refusal.ts';

export interface Told {
  readonly message: string;
  readonly remedy: string;
}

export function tellRefusal({ why }: Pick<Refusal, 'why'>): Told {
  return toldOf(why);
}

type Words = readonly [message: string, remedy: string];

const LOAD_AGAIN = 'Load the page again.';
const RESTORE =
  'Start the program again: it offers to restore a backup, and keeps the damaged file.';

const PLAIN: Readonly<Record<(typeof PLAIN_REFUSALS)[number], Words>> = {
  noNote: ['There is no note in this take.', 'Choose another one.'],
  takeTooLong: [NOT_GRADABLE.message, NOT_GRADABLE.remedy],
  takeFinished: ['This take is finished.', 'Begin a take for what is played now.'],
  takePartDamaged: ['A part of this take is damaged.', 'Restore a backup.'],
  noSuchTake: ['There is no such take.', 'Open the list of takes again.'],
  noSuchChart: ['There is no such chart of your own.', 'Charts that come with the program stay.'],
  noSuchDemo: ['There is no such demo take.', 'Choose one of the list.'],
  noSuchBackup: ['There is no such backup.', 'Load the page again and choose anew.'],
  noSuchArchive: ['There is no such archive on its way.', 'Export or import it again.'],
  nothingPlayed: ['Nothing of this was played.', 'Open the page again.'],
  shippedChart: [
    'Charts that come with the program stay as they are.',
    'Save a copy and change that.',
  ],
  librarySound: ['The library is sound and stays as it is.', LOAD_AGAIN],
  pieceMissing: ['A piece of the archive is missing.', 'Import it again.'],
  notOurPage: ['Only our own page may ask.', 'Start Linekeeper and use its own window.'],
  openInOwnWindow: ['Linekeeper is open already, in its own window.', 'Use it there.'],
  hostSilent: [
    'The program does not answer.',
    'Start it again with npm start; this page goes on by itself.',
  ],
  desktopSilent: ['The program does not answer.', 'Close its window and start it again.'],
  hostLeft: [
    'The program went away before it had answered.',
    'Look whether it was done; if not, do it again.',
  ],
  tooMuchAtOnce: ['This is too much at once.', 'Use a shorter take.'],
  archiveBrokeOff: ['The archive broke off on its way.', 'Export it again.'],
};

const SYSTEM: Readonly<Record<SystemCause, Words>> = {
  otherWriter: ['Another program is writing to the library.', 'Close it and try again.'],
  databaseReadOnly: [
    'The library may only be read.',
    'Give yourself the right to write to its folder.',
  ],
  diskError: [
    'The disk could not be read or written.',
    'Check that the disk has room and is sound, then start the program again.',
  ],
  databaseCorrupt: ['The library is damaged.', RESTORE],
  databaseFull: ['The disk is full.', 'Make room; what you play is kept here until then.'],
  cannotOpen: ['The library cannot be opened.', 'Check that its folder exists and is yours.'],
  notADatabase: [
    'The library file is not a library.',
    'Start the program again: it offers to restore a backup, and keeps this file.',
  ],
  noRight: [
    'The folder of the library may not be used.',
    'Give yourself the right to read and write it.',
  ],
  diskReadOnly: ['The disk may only be read.', 'Choose a folder on another disk.'],
  diskFull: ['The disk is full.', 'Make room and try again.'],
  quotaFull: ['Your share of the disk is full.', 'Make room and try again.'],
  fileTooLarge: ['The disk takes no file so large.', 'Choose a folder on another disk.'],
  fileGone: ['A file or folder of the library is gone.', 'Put it back where it was.'],
};

const DAMAGE: Readonly<Record<(typeof DAMAGES)[number], string>> = {
  pagesTorn: 'its pages do not hold together',
  pagesUnreadable: 'some of its pages cannot be read',
  fileGone: 'its file is gone or empty, and there are backups of it',
  contentsGone: 'nothing in it can be read, for its list of contents is gone',
  foreignDatabase: 'its file is the database of another program',
  notADatabase: 'its file is not a database',
};

function toldOf(why: RefusalCause): Told {
  switch (why.kind) {
    case 'plain':
      return told(PLAIN[why.what]);
    case 'system':
      return placed(told(SYSTEM[why.cause]), why.place);
    case 'internal':
      return placed(
        {
          message: `Something went wrong inside: ${why.detail}`,
          remedy: 'Try again; report it if it stays.',
        },
        why.place,
      );
    case 'playedElsewhere': {
      const where = why.chartTitle === null ? '' : ` on ${why.chartTitle}`;
      return {
        message: `A take${where} is being played in another window.`,
        remedy: 'Stop it there, or close that window.',
      };
    }
    case 'eventsMissing':
      return {
        message: `Events ${why.from} to ${why.to} are missing.`,
        remedy: 'Send them first.',
      };
    case 'libraryGone':
      return {
        message: `The library is no longer at ${why.file}: its folder was moved, deleted or unplugged.`,
        remedy: 'Put it back where it was; what you play is kept here until then.',
      };
    case 'libraryReadOnly':
      return {
        message: `The library may only be read: ${why.file}.`,
        remedy: 'Give yourself the right to write to it and to its folder.',
      };
    case 'newerLibrary':
      return {
        message: `The library was written by a newer program (schema ${why.schema}, this one knows ${why.known}).`,
        remedy: 'Start the newer program; nothing was changed.',
      };
    case 'libraryDamaged': {
      const detail = why.detail === null ? '' : ` (${why.detail})`;
      return {
        message: `The library is damaged: ${DAMAGE[why.damage]}${detail}.`,
        remedy: RESTORE,
      };
    }
    case 'unknownCall':
      return { message: `There is no call ${why.name}.`, remedy: LOAD_AGAIN };
    case 'misshapenCall':
      return {
        message: [`${why.name}:`, why.place, why.detail].filter((part) => part !== '').join(' '),
        remedy: LOAD_AGAIN,
      };
    case 'archive': {
      const [message, remedy] = archiveWords(why.fault);
      return {
        message: `The archive was not imported: ${cutShort(message)}`,
        remedy: `Nothing was changed. ${remedy}`,
      };
    }
    case 'backupFailed': {
      const { message, remedy } = toldOf(why.because);
      return { message: `No backup could be made in ${why.folder}. ${message}`, remedy };
    }
  }
}

function told([message, remedy]: Words): Told {
  return { message, remedy };
}

function placed({ message, remedy }: Told, place: string | null): Told {
  return { message: place === null ? message : `${message} (${place})`, remedy };
}

/** Names in an archive may be thousands of letters long; what is said about them is not. */
const MOST_TOLD = 300;

export function cutShort(words: string): string {
  return words.length <= MOST_TOLD ? words : `${words.slice(0, MOST_TOLD)}…`;
}

const EXPORT_AGAIN = 'Export it again, or fetch it again from where it was kept.';
const FOREIGN = 'No archive of this program is made so: look where it comes from.';

function archiveWords(fault: ArchiveFault): Words {
  switch (fault.kind) {
    case 'notAZip':
      return [`it is no zip file (${fault.detail}).`, EXPORT_AGAIN];
    case 'listSpoilt':
      return [`its list of files is spoilt (${fault.detail}).`, EXPORT_AGAIN];
    case 'tooManyFiles':
      return [
        `it holds ${fault.files} files, more than the ${fault.most} of any library.`,
        'Import an archive that this program wrote.',
      ];
    case 'twice':
      return [`${fault.path} is in it twice.`, FOREIGN];
    case 'locked':
      return [`${fault.path} is locked with a password.`, FOREIGN];
    case 'unfolds':
      return [`${fault.path} unfolds to more than ${fault.times} times its size.`, FOREIGN];
    case 'overlapping':
      return ['its files overlap.', FOREIGN];
    case 'archiveTooLarge':
      return [`it is ${sizeWords(fault)}.`, FOREIGN];
    case 'tooLarge': {
      const what = fault.path === null ? 'its files are' : `${fault.path} is`;
      return [`${what} ${sizeWords(fault)}.`, FOREIGN];
    }
    case 'spoilt':
      return [`${fault.path} is spoilt (${fault.detail ?? 'its sum is wrong'}).`, EXPORT_AGAIN];
    case 'lacks':
      return [`it lacks ${fault.path}.`, EXPORT_AGAIN];
    case 'noManifest':
      return [
        `it holds no ${fault.path}, so it is no archive of a library.`,
        'Charts and MIDI files are opened on the first screen, one by one or as a folder.',
      ];
    case 'otherSchema':
      return [
        `it was written as ${fault.schema}, this program reads ${fault.known}.`,
        'Import it with the program that wrote it, or a newer one.',
      ];
    case 'changed':
      return [
        `${fault.path} is not what was exported.`,
        `If you changed it yourself, take its line out of sha256 in ${fault.manifest}.`,
      ];
    case 'noChart':
      return [`${fault.path} names ${fault.file}, which is no chart.`, EXPORT_AGAIN];
    case 'noJson':
      return [`${fault.path} is no JSON (${fault.detail}).`, EXPORT_AGAIN];
    case 'noUtf8':
      return [`${fault.path} is no text in UTF-8.`, EXPORT_AGAIN];
    case 'nestedTooDeep':
      return [`${fault.path} is nested too deep.`, EXPORT_AGAIN];
    case 'misshapen':
      return [
        `${fault.path} is not as it should be (${fault.place || 'the whole'}: ${fault.detail}).`,
        EXPORT_AGAIN,
      ];
  }
}

function sizeWords({ bytes, mostBytes }: { bytes: number; mostBytes: number }): string {
  const mebibytes = (size: number): number => Math.ceil(size / 2 ** 20);
  return `${mebibytes(bytes)} MiB large, more than ${mebibytes(mostBytes)} MiB`;
}
