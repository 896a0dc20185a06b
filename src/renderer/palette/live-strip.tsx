/** The strip of keys while a line is played: every plate it may show lies there from the start, and is only seen or not. */

import { useLayoutEffect, useMemo, useRef } from 'react';
import type { FormChord } from '../../core/chart/index.ts';
import { createMark } from '../look/mark.ts';
import { Plate, Strip, wordsOf } from './keyboard-strip.tsx';
import { type ToneMove, toneMoves } from './palette-words.ts';

const MOVES = ['stays', 'leaves', 'arrives'] as const;

interface LiveStripProps {
  /** All chords whose palettes may be shown. */
  readonly chords: readonly FormChord[];
  /** Is given what puts tones on the strip, and stops when what it gives is called. */
  readonly watch: (put: (moves: readonly ToneMove[]) => void) => () => void;
}

export function LiveStrip({ chords, watch }: LiveStripProps) {
  const plates = useMemo(() => platesOf(chords), [chords]);
  const strip = useRef<SVGSVGElement>(null);
  useLayoutEffect(() => {
    if (strip.current === null) return;
    const { current: svg } = strip;
    const marks = new Map<number, (face: string | null) => void>();
    for (const [pc, faces] of plates) {
      const elements = svg.querySelectorAll(`[data-pc="${pc}"]`);
      const byFace = new Map(
        faces.flatMap((face, index) => {
          const element = elements[index];
          return element === undefined ? [] : [[faceOf(face), element] as const];
        }),
      );
      marks.set(pc, createMark(byFace, 'seen'));
    }
    const ignore = watch((moves) => {
      const byPc = new Map(moves.map((move) => [move.pc, move]));
      for (const [pc, mark] of marks) {
        const move = byPc.get(pc);
        mark(move === undefined ? null : faceOf(move));
      }
      svg.setAttribute('aria-label', wordsOf(moves));
    });
    return () => {
      ignore();
      for (const mark of marks.values()) mark(null);
    };
  }, [plates, watch]);
  return (
    <Strip
      ref={strip}
      words={null}
      inKey={({ pc, ...place }) =>
        plates.get(pc)?.map((move) => (
          <g key={faceOf(move)} className="face" data-pc={pc}>
            <Plate move={move} {...place} />
          </g>
        ))
      }
    />
  );
}

const faceOf = ({ note, move }: ToneMove): string => `${note} ${move}`;

/** All plates that may lie on each key: every way the palettes spell it, staying, leaving and arriving. */
function platesOf(chords: readonly FormChord[]): ReadonlyMap<number, readonly ToneMove[]> {
  const plates = new Map<number, ToneMove[]>();
  for (const chord of chords) {
    for (const { note, pc } of toneMoves(chord, chord)) {
      const faces = plates.get(pc) ?? [];
      plates.set(pc, faces);
      if (faces.some((face) => face.note === note)) continue;
      faces.push(...MOVES.map((move) => ({ note, pc, move })));
    }
  }
  return plates;
}
