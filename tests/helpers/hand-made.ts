/** Forms and takes written by hand for tests of the grader: no parser and no scale choice between rule and case. */

import type { Form, FormBar, FormChord } from '../../src/core/chart/model.ts';
import { type GradeSettings, gradeTake, type Report } from '../../src/core/grading/index.ts';
import { createBeatClock, createSlotGrid } from '../../src/core/grid/index.ts';
import type { TakeEvent, TakeEvents } from '../../src/core/take/model.ts';
import { plainTake } from '../../src/core/take/sources.ts';
import type { ChordSymbol } from '../../src/core/theory/chord-symbol.ts';
import { type Palette, paletteTones } from '../../src/core/theory/palette.ts';
import { INTERVALS, parseTone, type Tone, tonePc } from '../../src/core/theory/tone.ts';

function tone(name: string): Tone {
  const parsed = parseTone(name);
  if (parsed === null) throw new Error(`not a tone: ${name}`);
  return parsed;
}

/** A palette from its notes, `C D E F G A B`; `falling` makes it two-way. */
export function palette(name: string, notes: string, falling?: string): Palette {
  const tones = notes.split(' ').map(tone);
  return {
    name,
    root: notes.split(' ')[0] ?? '',
    ...paletteTones(tones),
    falling: falling === undefined ? null : paletteTones(falling.split(' ').map(tone)),
  };
}

export const C_IONIAN = palette('ionian', 'C D E F G A B');
export const D_DORIAN = palette('dorian', 'D E F G A B C');
export const C_MINOR = palette('aeolian', 'C D Eb F G Ab Bb');
/** C ionian and this differ in E–Eb and B–Bb. */
export const C_DORIAN = palette('dorian', 'C D Eb F G A Bb');
export const C_BOTH_WAYS = palette(
  'melodic minor up and down',
  'C D Eb F G A B',
  'C D Eb F G Ab Bb',
);

/** A major triad on a root, with any text: the grader reads text, root, bass and pitch classes only. */
export function symbol(text: string, root: string, bass?: string): ChordSymbol {
  return {
    text,
    root: tone(root),
    bass: bass === undefined ? null : tone(bass),
    family: 'major',
    tones: [
      { degree: 1, interval: INTERVALS.P1 },
      { degree: 3, interval: INTERVALS.M3 },
      { degree: 5, interval: INTERVALS.P5 },
    ],
    altered: false,
  };
}

export interface PlacedChord {
  readonly beats: number;
  readonly palette: Palette | null;
  readonly symbol?: ChordSymbol;
}

/** A form from bars of placed chords; meter 4/4 unless told otherwise. */
export function formOf(
  bars: readonly (readonly PlacedChord[])[],
  meter: Form['meter'] = { count: 4, unit: 4 },
): Form {
  return {
    title: 'Tide Table',
    key: { tonic: 0, mode: 'major' },
    plan: 'plain',
    meter,
    tempoBpm: 60,
    pickup: null,
    next: null,
    bars: bars.map((chords, index): FormBar => {
      let beat = 1;
      return {
        bar: index + 1,
        section: null,
        beginsSection: false,
        meter,
        chords: chords.map((placed): FormChord => {
          const start = beat;
          beat += placed.beats;
          const { palette: chosen } = placed;
          const text = chosen === null ? '' : `${chosen.root}${index}`;
          return {
            beat: start,
            beats: placed.beats,
            symbol: chosen === null ? null : (placed.symbol ?? symbol(text, chosen.root)),
            chosen: chosen === null ? null : { palette: chosen, reason: 'by hand', given: true },
            alternatives: [],
          };
        }),
      };
    }),
  };
}

/** One bar of 4/4 over one palette. */
export function bar(over: Palette | null): readonly PlacedChord[] {
  return [{ beats: 4, palette: over }];
}

/** MIDI number of `C4`, `Eb5`; C4 = 60. */
export function midi(name: string): number {
  const match = /^([A-G](?:b|#)*)(-?\d+)$/.exec(name);
  if (match?.[1] === undefined) throw new Error(`not a note: ${name}`);
  const at = tone(match[1]);
  const natural = tone(match[1].charAt(0));
  const alter = (at - natural) / 7;
  return 12 * (Number(match[2]) + 1) + tonePc(natural) + alter;
}

/** A note of a line: its name with an octave, and how far off its slot it is played; `-` leaves the slot empty. */
export interface PlayedNote {
  readonly name: string;
  readonly offMs?: number;
  readonly velocity?: number;
}

export const STEADY_60: GradeSettings['tempo'] = { kind: 'steady', tempoBpm: 60 };

/** Events of a line laid on the slots of a form, one word per slot: `C4 D4 - E4`. */
export function lineEvents(
  form: Form,
  line: string | readonly (PlayedNote | null)[],
  settings: Partial<GradeSettings> = {},
): TakeEvents {
  const tempo = settings.tempo ?? STEADY_60;
  const grid = createSlotGrid(form, createBeatClock(form, tempo), {
    slotsPerBeat: settings.slotsPerBeat ?? null,
    swing: settings.swing ?? 1,
    choruses: null,
  });
  const notes: readonly (PlayedNote | null)[] =
    typeof line === 'string'
      ? line.split(/\s+/).map((name) => (name === '-' ? null : { name }))
      : line;
  const events: TakeEvent[] = [];
  notes.forEach((note, slot) => {
    if (note === null) return;
    const atMs = grid.timeMs(slot) + (note.offMs ?? 0) + (settings.latencyMs ?? 0);
    const key = midi(note.name);
    events.push({ kind: 'noteOn', atMs, midi: key, velocity: note.velocity ?? 80 });
    events.push({ kind: 'noteOff', atMs: atMs + 0.9 * grid.beatMs(slot) * 0.5, midi: key });
  });
  return inOrder(events);
}

/** Sorts events by time and ends the take a second after the last. */
export function inOrder(events: readonly TakeEvent[]): TakeEvents {
  const sorted = [...events].sort((a, b) => a.atMs - b.atMs);
  return plainTake(sorted, (sorted.at(-1)?.atMs ?? 0) + 1000);
}

/** Grades a line written as words against a form. */
export function gradeLine(
  form: Form,
  line: string | readonly (PlayedNote | null)[],
  settings: Partial<GradeSettings> = {},
): Report {
  const complete: GradeSettings = { level: 'steps', tempo: STEADY_60, ...settings };
  return gradeTake(form, lineEvents(form, line, settings), complete);
}

/** The faults of every slot as words: `''` for a clean one. */
export function faultsOf(report: Report): readonly string[] {
  return report.slots.map((slot) => slot.faults.join('+'));
}

/** A key-down and its key-up. */
export function key(atMs: number, name: string, velocity = 80, holdMs = 200): readonly TakeEvent[] {
  const number = midi(name);
  return [
    { kind: 'noteOn', atMs, midi: number, velocity },
    { kind: 'noteOff', atMs: atMs + holdMs, midi: number },
  ];
}
