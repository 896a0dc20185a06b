/** The tones of a palette on a staff, rising from its root and, where it differs, falling. */

import './notation.css';
import { useEffect, useRef } from 'react';
import type { Palette } from '../../core/theory/index.ts';
import { withSigns } from '../look/signs.ts';
import { type Engraver, loadEngraver } from './engraver.ts';
import { engravedKey, risingNames } from './key-of-note.ts';

const NOTE_WIDTH = 34;
const HEIGHT = 110;

/** What is written: up, and down again when the way down is another. */
export function staffNames({ notes, falling }: Palette): readonly string[] {
  const up = risingNames(notes, 4);
  if (falling === null) return up;
  const [root = 'C'] = notes;
  const rootBelow = up[0] ?? 'C4';
  const octave = Number(rootBelow.at(-1));
  const down = risingNames(falling.notes, octave).toReversed();
  return [...up, `${root}${octave + 1}`, ...down];
}

export function ScaleStaff({ palette }: { readonly palette: Palette }) {
  const place = useRef<HTMLDivElement>(null);
  const names = staffNames(palette);
  const written = names.join(' ');
  useEffect(() => {
    let gone = false;
    void loadEngraver().then((engraver) => {
      if (!gone && place.current !== null) draw(engraver, place.current, written.split(' '));
    });
    return () => {
      gone = true;
    };
  }, [written]);
  return (
    <div
      className="staff scale-staff"
      ref={place}
      role="img"
      aria-label={`Written: ${withSigns(written)}`}
    />
  );
}

function draw(engraver: Engraver, place: HTMLDivElement, names: readonly string[]): void {
  place.replaceChildren();
  const width = 60 + names.length * NOTE_WIDTH;
  const renderer = new engraver.Renderer(place, engraver.Renderer.Backends.SVG);
  renderer.resize(width, HEIGHT);
  const context = renderer.getContext();
  const stave = new engraver.Stave(2, 4, width - 6).addClef('treble');
  stave.setContext(context).draw();
  const notes = names.map(
    (name) => new engraver.StaveNote({ keys: [engravedKey(name)], duration: 'w' }),
  );
  const voice = new engraver.Voice({ numBeats: notes.length * 4, beatValue: 4 });
  voice.addTickables(notes);
  engraver.Accidental.applyAccidentals([voice], 'C');
  new engraver.Formatter().joinVoices([voice]).format([voice], width - 70);
  voice.draw(context, stave);
}
