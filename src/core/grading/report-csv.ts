/** A report's slots as comma-separated values. Source of the quoting: RFC 4180. */

import type { Report, ReportClosing } from './report.ts';

const COLUMNS = [
  'file',
  'index',
  'chorus',
  'bar',
  'beat',
  'sub',
  'chord',
  'palette',
  'nominalMs',
  'midi',
  'name',
  'onsetMs',
  'deviationMs',
  'velocity',
  'durationMs',
  'faults',
  'marks',
  'judged',
] as const;

/** The header row, with its line end. */
export const CSV_HEADER = `${COLUMNS.join(',')}\r\n`;

/**
 * One row for each slot, each with its line end; the note's cells are empty in a gap, faults and marks are parted by
 * blanks, `judged` is false where a break touched the slot. A closing note is a last row without a place, marked `closing`. `file` is the name the rows go under. Text that a table program would take for a formula is quoted with an
 * apostrophe.
 */
export function reportCsv(report: Report, file: string): string {
  const rows = report.slots.map(({ note, ...slot }) =>
    [
      textCell(file),
      slot.index,
      slot.chorus,
      slot.bar,
      slot.beat,
      slot.sub,
      textCell(slot.chord),
      textCell(slot.palette),
      slot.nominalMs,
      note?.midi ?? '',
      note?.name ?? '',
      note?.onsetMs ?? '',
      note?.deviationMs ?? '',
      note?.velocity ?? '',
      note?.durationMs ?? '',
      slot.faults.join(' '),
      slot.marks.join(' '),
      slot.judged,
    ].join(','),
  );
  if (report.closing !== null) rows.push(closingRow(report.closing, file));
  return rows.map((row) => `${row}\r\n`).join('');
}

function closingRow(closing: ReportClosing, file: string): string {
  const { midi, name, onsetMs, deviationMs } = closing;
  const place = ['', '', '', '', ''];
  const note = [onsetMs - deviationMs, midi, name, onsetMs, deviationMs, '', ''];
  return [textCell(file), ...place, textCell(closing.chord), '', ...note, '', 'closing', ''].join();
}

/**
 * What a table program may take for the start of a formula, also in full width and after blanks.
 * Source: OWASP, page "CSV Injection".
 */
const FORMULA = /^(?:\s*[=+\-@＝＋－＠]|[\t\r\n])/u;

/**
 * A text cell: safe from being read as a formula, quoted where RFC 4180 asks for it, and at the semicolons where
 * programs of other countries would part it.
 */
export function textCell(text: string): string {
  const safe = FORMULA.test(text) ? `'${text}` : text;
  return /[",;\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
