/** Sentences about MIDI files: what is wrong, where, and what to do. */

import type { SmfProblem, SmfProblemCode } from './model.ts';

const EXPORT_AGAIN = 'Export or record the file again; this copy is damaged.';

const REMEDIES: Readonly<Record<SmfProblemCode, string>> = {
  empty: 'The file is empty. Record or export it again.',
  tooLarge: 'Files up to 16 MB are read. Split the recording into shorter takes.',
  otherFile: 'Give a Standard MIDI File (.mid).',
  header: EXPORT_AGAIN,
  format: 'Export it as a Standard MIDI File of format 0 or 1.',
  division: EXPORT_AGAIN,
  noTracks: 'Export the recording with its track.',
  truncated: 'The file breaks off. Copy or export it again.',
  number: EXPORT_AGAIN,
  runningStatus: EXPORT_AGAIN,
  status: EXPORT_AGAIN,
  noteNumber: EXPORT_AGAIN,
  tooLong: 'Cut the silence away, or export it with a tempo that can be played.',
  noNotes: 'Check that the right track was recorded or exported.',
  independentTracks: 'Export it as a Standard MIDI File of format 0 or 1.',
};

const FOUND: Readonly<Record<SmfProblemCode, string>> = {
  empty: 'This is no MIDI file: it holds',
  tooLarge: 'This file is too large:',
  otherFile: 'This is no MIDI file; it looks like',
  header: 'The header cannot be right: it names',
  format: 'This kind of MIDI file is not known:',
  division: 'The file counts time in a way that cannot be:',
  noTracks: 'The file holds',
  truncated: 'The file is cut short: found',
  number: 'The file is damaged: found',
  runningStatus: 'The file is damaged: found',
  status: 'The file is damaged: found an impossible',
  noteNumber: 'The file is damaged: found',
  tooLong: 'The file lasts longer than a take can:',
  noNotes: 'The file holds no notes:',
  independentTracks: 'The file holds independent patterns, not one performance:',
};

/** What to do about a problem. */
export function remedyFor(code: SmfProblemCode): string {
  return REMEDIES[code];
}

/** One clear sentence or two: what, where, what to do. */
export function describeSmfProblem(problem: SmfProblem): string {
  return `${FOUND[problem.code]} ${problem.read} (byte ${problem.byteOffset}). ${problem.remedy}`;
}
