/** A written line on a staff: key, chords, bar numbers, beams by beat; the bar that sounds is marked. */

import './notation.css';
import { useEffect, useMemo, useRef, useState } from 'react';
import { type Form, NO_CHORD } from '../../core/chart/index.ts';
import {
  type LineMeasure,
  lineMeasures,
  type NoteValue,
  type WrittenLine,
} from '../../core/line/index.ts';
import { keyFifths } from '../../core/theory/index.ts';
import { withSigns } from '../look/signs.ts';
import { type Engraver, loadEngraver } from './engraver.ts';
import { engravedKey } from './key-of-note.ts';

interface LineStaffProps {
  readonly form: Form;
  readonly line: WrittenLine;
  readonly showPalettes: boolean;
  /** Index of the bar that sounds, through all choruses, or null. */
  readonly current: number | null;
}

const SYSTEM_HEIGHT = 172;
const STAFF_TOP = 52;
const FIRST_BAR_EXTRA = 78;
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

export function LineStaff({ form, line, showPalettes, current }: LineStaffProps) {
  const place = useRef<HTMLDivElement>(null);
  const [width, setWidth] = useState(0);
  const measures = useMemo(() => lineMeasures(form, line), [form, line]);
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
      draw(engraver, place.current, measures, { width, bars, signature, showPalettes });
    });
    return () => {
      gone = true;
    };
  }, [measures, signature, width, bars, showPalettes]);

  useEffect(() => {
    for (const bar of place.current?.querySelectorAll('.sounding') ?? []) {
      bar.classList.remove('sounding');
    }
    if (current === null) return;
    const bar = place.current?.querySelector(`#vf-bar-${current}`);
    bar?.classList.add('sounding');
    bar?.scrollIntoView({ block: 'nearest' });
  }, [current]);

  const notes = line.notes.map(({ name }) => withSigns(name)).join(' ');
  return <div className="staff line-staff" ref={place} role="img" aria-label={`Line: ${notes}`} />;
}

/** Note values in the library's names. */
const DURATIONS: Readonly<Record<NoteValue, string>> = {
  half: 'h',
  dottedHalf: 'hd',
  quarter: 'q',
  dottedQuarter: 'qd',
  eighth: '8',
  sixteenth: '16',
};

const BEAMED: ReadonlySet<NoteValue> = new Set(['eighth', 'sixteenth']);

interface Layout {
  readonly width: number;
  readonly bars: number;
  readonly signature: string;
  readonly showPalettes: boolean;
}

function draw(
  engraver: Engraver,
  place: HTMLDivElement,
  measures: readonly LineMeasure[],
  { width, bars, signature, showPalettes }: Layout,
): void {
  place.replaceChildren();
  const systems = Math.ceil(measures.length / bars);
  const renderer = new engraver.Renderer(place, engraver.Renderer.Backends.SVG);
  renderer.resize(width, systems * SYSTEM_HEIGHT + 10);
  const context = renderer.getContext();
  const barWidth = (width - FIRST_BAR_EXTRA - 2 * LEFT) / bars;
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
    drawNotes(engraver, context, stave, measure, signature);
    drawChords(context, stave, measure, showPalettes);
    context.closeGroup();
  });
}

type Stave = InstanceType<Engraver['Stave']>;
type Context = ReturnType<InstanceType<Engraver['Renderer']>['getContext']>;

function drawNotes(
  engraver: Engraver,
  context: Context,
  stave: Stave,
  { beats }: LineMeasure,
  signature: string,
): void {
  const groups = beats.map(({ notes, tuplet }) => {
    const drawn = notes.map((note) => {
      const duration = DURATIONS[note.value];
      const sign = new engraver.StaveNote(
        note.name === null
          ? { keys: ['b/4'], duration: `${duration}r` }
          : { keys: [engravedKey(note.name)], duration, autoStem: true },
      );
      if (duration.endsWith('d')) engraver.Dot.buildAndAttach([sign], { all: true });
      return sign;
    });
    // Rests and longer notes break the beam.
    const beamed = drawn.filter((_, index) => {
      const note = notes[index];
      return note !== undefined && note.name !== null && BEAMED.has(note.value);
    });
    const beams = beamed.length > 1 ? [new engraver.Beam(beamed, true)] : [];
    const tuplets =
      tuplet === null
        ? []
        : [new engraver.Tuplet(drawn, { numNotes: tuplet.played, notesOccupied: tuplet.inTimeOf })];
    return { drawn, beams, tuplets };
  });
  const voice = new engraver.Voice({ numBeats: beats.length, beatValue: 4 }).setMode(
    engraver.Voice.Mode.SOFT,
  );
  voice.addTickables(groups.flatMap(({ drawn }) => drawn));
  engraver.Accidental.applyAccidentals([voice], signature);
  new engraver.Formatter().joinVoices([voice]).formatToStave([voice], stave);
  voice.draw(context, stave);
  for (const { beams, tuplets } of groups) {
    for (const beam of beams) beam.setContext(context).draw();
    for (const tuplet of tuplets) tuplet.setContext(context).draw();
  }
}

/** Chord symbols stand over their beats, as shares of the bar; palettes below the staff. */
function drawChords(
  context: Context,
  stave: Stave,
  { chords, beats }: LineMeasure,
  showPalettes: boolean,
): void {
  const from = stave.getNoteStartX();
  const share = (stave.getNoteEndX() - from) / beats.length;
  for (const { beat, symbol, chosen } of chords) {
    const x = from + (beat - 1) * share;
    context.setFont('Georgia, serif', 15, 'bold');
    context.fillText(withSigns(symbol?.text ?? NO_CHORD), x, stave.getYForTopText(3));
    if (!showPalettes || chosen === null) continue;
    const { root, name } = chosen.palette;
    context.setFont('system-ui, sans-serif', 10);
    context.fillText(`${withSigns(root)} ${name}`, x, stave.getYForBottomText(3));
  }
}
