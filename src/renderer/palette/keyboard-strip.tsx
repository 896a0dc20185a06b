/** One octave of a keyboard: the palette now, and near a change which tones leave and which arrive. */

import './palette.css';
import { memo, type ReactNode } from 'react';
import { withSigns } from '../look/signs.ts';
import type { ToneMove } from './palette-words.ts';

const WHITE_PCS = [0, 2, 4, 5, 7, 9, 11];
/** Black keys by the white key on their left. */
const BLACK_KEYS = [
  { pc: 1, after: 0 },
  { pc: 3, after: 1 },
  { pc: 6, after: 3 },
  { pc: 8, after: 4 },
  { pc: 10, after: 5 },
];
const WHITE_WIDTH = 44;
const WHITE_HEIGHT = 112;
const BLACK_WIDTH = 32;
const BLACK_HEIGHT = 66;

const MOVE_WORDS = { stays: '', leaves: 'leaves', arrives: 'arrives' } as const;

function wordsOf(moves: readonly ToneMove[]): string {
  const tones = moves.map(({ note, move }) => `${note} ${MOVE_WORDS[move]}`.trim());
  return `Palette: ${tones.join(', ')}`;
}

export const KeyboardStrip = memo(({ moves }: { readonly moves: readonly ToneMove[] }) => {
  const byPc = new Map(moves.map((move) => [move.pc, move]));
  return (
    <Strip
      words={wordsOf(moves)}
      inKey={({ pc, ...place }) => {
        const move = byPc.get(pc);
        return move !== undefined && <Plate move={move} {...place} />;
      }}
    />
  );
});

interface KeyPlace {
  readonly x: number;
  readonly width: number;
  readonly height: number;
}

interface StripProps {
  /** What is read aloud. */
  readonly words: string;
  /** What lies on a key. */
  readonly inKey: (key: KeyPlace & { readonly pc: number }) => ReactNode;
}

const KEYS = [
  ...WHITE_PCS.map((pc, index) => ({
    pc,
    colour: 'white',
    x: 1 + index * WHITE_WIDTH,
    width: WHITE_WIDTH,
    height: WHITE_HEIGHT,
  })),
  ...BLACK_KEYS.map(({ pc, after }) => ({
    pc,
    colour: 'black',
    x: 1 + (after + 1) * WHITE_WIDTH - BLACK_WIDTH / 2,
    width: BLACK_WIDTH,
    height: BLACK_HEIGHT,
  })),
];

/** The keys, and on them what the caller lays there. */
function Strip({ words, inKey }: StripProps) {
  return (
    <svg
      className="strip"
      viewBox={`0 0 ${WHITE_WIDTH * 7 + 2} ${WHITE_HEIGHT + 2}`}
      role="img"
      aria-label={words}
    >
      {KEYS.map(({ pc, colour, x, width, height }) => (
        <g key={pc}>
          <rect className={`strip-${colour}`} x={x} y={1} width={width} height={height} />
          {inKey({ pc, x, width, height })}
        </g>
      ))}
    </svg>
  );
}

/** A tone that stays has a full plate, one that leaves a broken frame, one that arrives a thick frame. */
function Plate({ move, x, width, height }: KeyPlace & { readonly move: ToneMove }) {
  const plate = { x: x + 3, y: 1 + height - 36, width: width - 6, height: 33 };
  return (
    <>
      <rect className={`plate ${move.move}`} rx="4" {...plate} />
      <text className={`plate-name ${move.move}`} x={plate.x + plate.width / 2} y={plate.y + 23}>
        {withSigns(move.note)}
      </text>
    </>
  );
}
