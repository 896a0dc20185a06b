/** A written line as a page for the terminal: bars in rows, above the notes of each beat the chord that begins on it. */

import {
  beatsPerBar,
  type Form,
  type FormBar,
  formatMeter,
  NO_CHORD,
} from '../../core/chart/index.ts';
import type { BeatRhythm, WrittenLine } from '../../core/line/index.ts';
import { formatKey } from '../../core/theory/index.ts';
import type { Paint } from './paint.ts';

/** What is told of a line above it. */
export interface LineHead {
  /** What it is: `line at thirds`, or the name of a drill. */
  readonly what: string;
  readonly seed: number;
}

/** A silence, and a note that goes on from the beat before. */
const REST = '–';
const HELD = '~';

/** The whole page, with a line end after the last line, for a terminal so many columns wide. */
export function linePage(
  form: Form,
  line: WrittenLine,
  { what, seed }: LineHead,
  width: number,
  colours: Paint,
): string {
  const facts = [
    `key ${formatKey(form.key)}`,
    formatMeter(form.meter),
    `plan ${form.plan}`,
    what,
    `seed ${seed}`,
  ];
  const head = `${colours.bold(form.title)}\n${facts.join(' · ')}`;
  const parts = [head, ...chorusParts(form, line, width, colours)];
  return `${parts.join('\n\n')}\n${closingText(line)}`;
}

/** Under the last row, as its notes are. */
function closingText({ closing }: WrittenLine): string {
  return closing === null ? '' : `closing ${closing.name} over ${closing.chord}\n`;
}

function chorusParts(
  form: Form,
  line: WrittenLine,
  width: number,
  colours: Paint,
): readonly string[] {
  const beats = beatTexts(form, line);
  const column = beats.reduce((most, { chord, notes }) => {
    return Math.max(most, chord.length + 1, notes.length + 1);
  }, 0);
  const perChorus = form.bars.reduce((sum, { meter }) => sum + beatsPerBar(meter), 0);
  return Array.from({ length: line.choruses }, (_, chorus) => {
    const own = beats.slice(chorus * perChorus, (chorus + 1) * perChorus);
    const rows = rowsOf(form.bars, own, column, width, colours).join('\n');
    return line.choruses === 1 ? rows : `${colours.bold(`chorus ${chorus + 1}`)}\n${rows}`;
  });
}

interface BeatText {
  /** The chords that begin on the beat, mostly one or none. */
  readonly chord: string;
  readonly notes: string;
}

/** Every beat of all choruses: its chords, and its notes in order. */
function beatTexts(form: Form, line: WrittenLine): readonly BeatText[] {
  const chords = form.bars.flatMap(({ meter, chords: own }) =>
    Array.from({ length: beatsPerBar(meter) }, (_, beat) => {
      const begun = own.filter((one) => Math.floor(one.beat) === beat + 1);
      return begun.map(({ symbol }) => symbol?.text ?? NO_CHORD).join(' ');
    }),
  );
  const named = line.notes.map(({ onsetBeats, name }) => ({
    beat: Math.floor(onsetBeats + ROUNDING),
    name,
  }));
  let next = 0;
  return Array.from({ length: line.choruses * chords.length }, (_, beat) => {
    const names: string[] = [];
    for (; named[next]?.beat === beat; next++) names.push(named[next]?.name ?? '');
    const rhythm = line.rhythm?.[beat];
    const notes = rhythm === undefined ? names : soundsAndRests(rhythm, names);
    return { chord: chords[beat % chords.length] ?? '', notes: notes.join(' ') };
  });
}

/** Sums of beats are not exact. */
const ROUNDING = 1e-6;

function soundsAndRests(rhythm: BeatRhythm, names: readonly string[]): readonly string[] {
  let next = 0;
  const parts = rhythm.map(({ isRest }) => (isRest ? REST : (names[next++] ?? '')));
  return rhythm[0]?.at === 0 ? parts : [HELD, ...parts];
}

/** Two lines for each row: the chords, then the notes. */
function rowsOf(
  bars: readonly FormBar[],
  beats: readonly BeatText[],
  column: number,
  width: number,
  colours: Paint,
): readonly string[] {
  const rows: string[] = [];
  let row: { readonly first: number; chords: string; notes: string } | null = null;
  let at = 0;
  const end = (): void => {
    if (row === null) return;
    const number = String(row.first).padStart(5);
    rows.push(`${number} |${colours.bold(row.chords)}`, `      |${row.notes}`);
  };
  for (const { bar, meter } of bars) {
    const own = beats.slice(at, at + beatsPerBar(meter));
    at += own.length;
    const cell = (part: keyof BeatText): string =>
      ` ${own.map((beat) => beat[part].padEnd(column)).join('')}|`;
    const chords = cell('chord');
    const fits = row !== null && 7 + row.chords.length + chords.length <= width;
    if (row === null || !fits) {
      end();
      row = { first: bar, chords: '', notes: '' };
    }
    row.chords += chords;
    row.notes += cell('notes');
  }
  end();
  return rows;
}
