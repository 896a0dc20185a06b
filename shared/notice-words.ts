/** Notices in words, for the page, and for what an archive says of itself. */

import { NOT_GRADABLE } from '../src/core/grading/size.ts';
import type { HostNotice, Merged, Uncounted, Unread } from './bridge/notice.ts';
import { cutShort, tellRefusal } from './refusal-words.ts';

export function hostNoticeWords(notice: HostNotice): string {
  switch (notice.kind) {
    case 'uncounted':
      return uncountedWords(notice);
    case 'moreUncounted':
      return `${notice.takes} more takes do not count for the same reason.`;
    case 'clockBehind':
      return `This computer’s clock says ${day(notice.nowMs)}, but there is a take of ${day(notice.latestTakeMs)}. Set the clock right: progress over weeks is told by it.`;
    case 'backupFailed':
      return refused(notice);
    case 'takeUnfinished':
      return `A take is not finished yet. ${refused(notice)}`;
  }
}

export function unreadWords(unread: Unread): string {
  switch (unread.kind) {
    case 'figures':
      return 'The figures of a take cannot be read whole.';
    case 'chart':
      return `The chart in row ${unread.row} cannot be read.`;
    case 'take':
      return `The take in row ${unread.row} cannot be read.`;
    case 'takePart':
      return `${takeName(unread)} can be read for its first ${unread.events} events.`;
    case 'hidden':
      return `Some ${unread.table} may be hidden behind damaged pages.`;
    case 'some':
      return `Some ${unread.table.replace('_', ' ')} cannot be read.`;
  }
}

export function mergedWords(merged: Merged): string {
  switch (merged.kind) {
    case 'uncounted':
      return uncountedWords(merged);
    case 'setting':
      return `The setting “${merged.name}” differs: the one here stays.`;
    case 'device':
      return `${merged.name} is set otherwise in the archive: the one here stays.`;
    case 'chartBack':
      return `The chart ${merged.title} was deleted here and is back.`;
    case 'chartDiffers':
      return `The chart ${merged.title} differs from the one here: both are kept.`;
    case 'melodyDiffers':
      return `The melody of ${merged.title} differs from the one here, which stays.`;
    case 'takeNote':
      return `${takeName(merged)} has another note or end in the archive: the one here stays.`;
    case 'takeBeside': {
      const why =
        merged.because === 'gone'
          ? 'was deleted here or cannot be read'
          : 'differs from the one here';
      return `${takeName(merged)} ${why}: it is kept beside it.`;
    }
    case 'remark':
      return `The remark on the session of ${day(merged.atMs)} differs: the one here stays.`;
    case 'passedOver':
      return `${cutShort(merged.path)} is no part of an archive and was left out.`;
  }
}

const UNCOUNTED: Readonly<Record<Uncounted['because'], string>> = {
  partDamaged: 'a part of it is damaged. Restore a backup.',
  chartUnreadable: 'its chart cannot be read. Open the take: it says what is wrong with it.',
  figuresUnreadable:
    'what it came to cannot be read. Close the program and count all takes again: npm run recount.',
  takeTooLong: `it is too long. ${NOT_GRADABLE.remedy}`,
};

function uncountedWords(uncounted: Uncounted): string {
  return `${takeName(uncounted)} does not count: ${UNCOUNTED[uncounted.because]}`;
}

interface NamedTake {
  readonly startedAtMs: number;
  readonly chartTitle: string;
}

function takeName({ startedAtMs, chartTitle }: NamedTake): string {
  return `The take of ${day(startedAtMs)} on ${chartTitle}`;
}

function refused(notice: Extract<HostNotice, { why: unknown }>): string {
  const { message, remedy } = tellRefusal(notice);
  return `${message} ${remedy}`;
}

function day(atMs: number): string {
  return new Date(atMs).toISOString().slice(0, 10);
}
