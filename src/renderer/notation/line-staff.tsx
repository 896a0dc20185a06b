/** Bars of notes on a staff: key, chords, bar numbers, beams by beat, faults below; the bar that sounds is marked. */

import './notation.css';
import { useEffect, useRef, useState } from 'react';
import { type Form, NO_CHORD } from '../../core/chart/index.ts';
import type { Measure, MeasureNote, NoteValue } from '../../core/score/index.ts';
import { keyFifths, paletteName } from '../../core/theory/index.ts';
import type { Fault } from '../../core/words.ts';
import { withSigns } from '../look/signs.ts';
import { type Engraver, loadEngraver } from './engraver.ts';
import { engravedKey } from './key-of-note.ts';
import { drawMarks } from './staff-marks.ts';

type LineFaults = ReadonlyMap<number, readonly Fault[]>;

interface LineStaffProps {
  readonly form: Form;
  readonly measures: readonly Measure[];
  /** What is seen, for those who do not see it. */
  readonly label: string;
  readonly showPalettes: boolean;
  /** Index of the bar that sounds, among the measures, or null. */
  readonly current: number | null;
  /** Long : short of the two eighths of a beat; from 1, straight, which needs no mark. */
  readonly swing?: number;
  /** What was wrong at each slot that was not clean. */
  readonly faults?: LineFaults;
}

const NO_FAULTS: LineFaults = new Map();

const SYSTEM_HEIGHT = 172;
const STAFF_TOP = 52;
const FIRST_BAR_EXTRA = 78;
/** Above the chords of the first system. */
const SWING_Y = 16;
const LEFT = 10;
const LEAST_BAR_WIDTH = 230;
const MOST_BARS_IN_SYSTEM = 4;

/** Signatures by their number of sharps, flats negative, in the library's names. */
const SIGNATURES = [
  'Cb',
  'Gb',
  'Db',
  'Ab',
  'Eb',
  'Bb',
  'F',
  'C',
  'G',
  'D',
  'A',
  'E',
  'B',
  'F#',
  'C#',
];
const C_AT = 7;

export function LineStaff(props: LineStaffProps) {
  const { form, measures, label, showPalettes, current, swing = 1, faults = NO_FAULTS } = props;
  const place = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(0);
  const signature = SIGNATURES[C_AT + keyFifths(form.key)] ?? 'C';
  const bars = Math.max(1, Math.min(MOST_BARS_IN_SYSTEM, Math.floor(width / LEAST_BAR_WIDTH)));

  useEffect(() => {
    const element = place.current;
    if (element === null) return;
    const watch = new ResizeObserver(() => setWidth(element.clientWidth));
    watch.observe(element);
    return () => watch.disconnect();
  }, []);

  useEffect(() => {
    if (width === 0) return;
    let gone = false;
    void loadEngraver().then((engraver) => {
      if (gone || place.current === null) return;
      draw(engraver, place.current, measures, {
        ...{ width, bars, signature, showPalettes, swing, faults },
      });
    });
    return () => {
      gone = true;
    };
  }, [measures, signature, width, bars, showPalettes, swing, faults]);

  useEffect(() => {
    for (const bar of place.current?.querySelectorAll('.sounding') ?? []) {
      bar.classList.remove('sounding');
    }
    if (current === null) return;
    const bar = place.current?.querySelector(`#vf-bar-${current}`);
    bar?.classList.add('sounding');
    bar?.scrollIntoView({ block: 'nearest' });
  }, [current]);

  return <div className="staff line-staff" ref={place} role="img" aria-label={label} />;
}

/** Note values in the library's names. */
const DURATIONS: Readonly<Record<NoteValue, string>> = {
  whole: 'w',
  dottedHalf: 'hd',
  half: 'h',
  dottedQuarter: 'qd',
  quarter: 'q',
  dottedEighth: '8d',
  eighth: '8',
  sixteenth: '16',
  thirtySecond: '32',
  sixtyFourth: '64',
};

const BEAMED: ReadonlySet<NoteValue> = new Set([
  'dottedEighth',
  'eighth',
  'sixteenth',
  'thirtySecond',
  'sixtyFourth',
]);

interface Layout {
  readonly width: number;
  readonly bars: number;
  readonly signature: string;
  readonly showPalettes: boolean;
  readonly swing: number;
  readonly faults: LineFaults;
}

function draw(
  engraver: Engraver,
  place: HTMLDivElement,
  measures: readonly Measure[],
  { width, bars, signature, showPalettes, swing, faults }: Layout,
): void {
  place.replaceChildren();
  const systems = Math.ceil(measures.length / bars);
  const renderer = new engraver.Renderer(place, engraver.Renderer.Backends.SVG);
  renderer.resize(width, systems * SYSTEM_HEIGHT + 10);
  // The library fixes the size in the style; on narrower paper the proportions are to hold, not the height.
  place.querySelector('svg')?.removeAttribute('style');
  const context = renderer.getContext();
  if (swing > 1) {
    context.setFont('Georgia, serif', 13, 'italic');
    context.fillText(`swing, ${swing} : 1`, LEFT, SWING_Y);
  }
  const barWidth = (width - FIRST_BAR_EXTRA - 2 * LEFT) / bars;
  let open: DrawnNote | null = null;
  measures.forEach((measure, index) => {
    const inSystem = index % bars;
    const x = inSystem === 0 ? LEFT : LEFT + FIRST_BAR_EXTRA + inSystem * barWidth;
    const y = Math.floor(index / bars) * SYSTEM_HEIGHT + STAFF_TOP;
    const staveWidth = barWidth + (inSystem === 0 ? FIRST_BAR_EXTRA : 0);
    context.openGroup('bar', `bar-${index}`);
    const stave = new engraver.Stave(x, y, staveWidth);
    if (inSystem === 0) stave.addClef('treble').addKeySignature(signature);
    if (measure.meterSign !== null) stave.addTimeSignature(measure.meterSign);
    stave.setMeasure(measure.bar).setContext(context).draw();
    const drawn = drawNotes(engraver, context, stave, measure, signature);
    drawChords(context, stave, measure, showPalettes);
    for (const { note, sign } of drawn) markFaults(place, index, stave, note, sign, faults);
    context.closeGroup();
    tieNotes(engraver, context, drawn, open);
    open = drawn.at(-1) ?? null;
  });
}

type Stave = InstanceType<Engraver['Stave']>;
type Context = ReturnType<InstanceType<Engraver['Renderer']>['getContext']>;

type StaveNote = InstanceType<Engraver['StaveNote']>;

interface DrawnNote {
  readonly note: MeasureNote;
  readonly sign: StaveNote;
}

function drawNotes(
  engraver: Engraver,
  context: Context,
  stave: Stave,
  { beats }: Measure,
  signature: string,
): readonly DrawnNote[] {
  const groups = beats.map(({ notes, tuplet }) => {
    const drawn = notes.map((note) => ({ note, sign: signOf(engraver, note) }));
    // Rests and longer notes break the beam.
    const beamed = drawn.filter(({ note }) => note.name !== null && BEAMED.has(note.value));
    const signs = drawn.map(({ sign }) => sign);
    const beams =
      beamed.length > 1
        ? [
            new engraver.Beam(
              beamed.map(({ sign }) => sign),
              true,
            ),
          ]
        : [];
    const tuplets =
      tuplet === null
        ? []
        : [new engraver.Tuplet(signs, { numNotes: tuplet.played, notesOccupied: tuplet.inTimeOf })];
    return { drawn, beams, tuplets };
  });
  const voice = new engraver.Voice({ numBeats: beats.length, beatValue: 4 }).setMode(
    engraver.Voice.Mode.SOFT,
  );
  const all = groups.flatMap(({ drawn }) => drawn);
  voice.addTickables(all.map(({ sign }) => sign));
  engraver.Accidental.applyAccidentals([voice], signature);
  new engraver.Formatter().joinVoices([voice]).formatToStave([voice], stave);
  voice.draw(context, stave);
  for (const { beams, tuplets } of groups) {
    for (const beam of beams) beam.setContext(context).draw();
    for (const tuplet of tuplets) tuplet.setContext(context).draw();
  }
  return all;
}

function signOf(engraver: Engraver, { name, value }: MeasureNote): StaveNote {
  const duration = DURATIONS[value];
  const sign = new engraver.StaveNote(
    name === null
      ? { keys: ['b/4'], duration: `${duration}r` }
      : { keys: [engravedKey(name)], duration, autoStem: true },
  );
  if (duration.endsWith('d')) engraver.Dot.buildAndAttach([sign], { all: true });
  return sign;
}

/** Ties of a bar, the one into it from the bar before among them; from system to system the tie begins anew. */
function tieNotes(
  engraver: Engraver,
  context: Context,
  drawn: readonly DrawnNote[],
  before: DrawnNote | null,
): void {
  let last = before;
  for (const one of drawn) {
    if (one.note.tiedFrom) {
      const isBeside = last !== null && last.sign.getAbsoluteX() < one.sign.getAbsoluteX();
      const tie = new engraver.StaveTie({
        ...(isBeside && last !== null ? { firstNote: last.sign } : {}),
        lastNote: one.sign,
      });
      tie.setContext(context).draw();
    }
    last = one;
  }
}

/** Below the bottom line, clear of low notes and of palettes. */
const MARKS_BELOW = 5;

function markFaults(
  place: HTMLDivElement,
  measure: number,
  stave: Stave,
  note: MeasureNote,
  sign: StaveNote,
  faults: LineFaults,
): void {
  const own = note.slot === null || note.tiedFrom ? undefined : faults.get(note.slot);
  const group = place.querySelector(`#vf-bar-${measure}`);
  if (own === undefined || group === null) return;
  drawMarks(group, sign.getAbsoluteX() + HEAD_CENTRE, stave.getYForBottomText(MARKS_BELOW), own);
}

/** From the left edge of a note head to its middle. */
const HEAD_CENTRE = 6;

/** Chord symbols stand over their beats, as shares of the bar; palettes below the staff. */
function drawChords(
  context: Context,
  stave: Stave,
  { chords, beats }: Measure,
  showPalettes: boolean,
): void {
  const from = stave.getNoteStartX();
  const share = (stave.getNoteEndX() - from) / beats.length;
  for (const { beat, symbol, chosen } of chords) {
    const x = from + (beat - 1) * share;
    context.setFont('Georgia, serif', 15, 'bold');
    context.fillText(withSigns(symbol?.text ?? NO_CHORD), x, stave.getYForTopText(3));
    if (!showPalettes || chosen === null) continue;
    context.setFont('system-ui, sans-serif', 10);
    context.fillText(withSigns(paletteName(chosen.palette)), x, stave.getYForBottomText(3));
  }
}
