/**
 * One octave of keys: what the palette has, and near a change what leaves and what arrives. A tone that stays is a plate of ink,
 * one that leaves is hatched as the line hatches an old palette, one that arrives is a plate on a stem. Every face a key may show
 * lies there from the start, and is only seen or not.
 */

import type { FormChord } from '../../core/chart/index.ts';
import { createMark } from '../look/mark.ts';
import { withSigns } from '../look/signs.ts';
import { type ToneMove, toneMoves } from '../palette/palette-words.ts';
import { farPx, LEGIBLE, sansPx } from './distance.ts';
import { svg } from './dom.ts';

/** Place of each key by pitch class, in white keys from the left; the black ones between two. */
const PLACES = [0, 0.5, 1, 1.5, 2, 3, 3.5, 4, 4.5, 5, 5.5, 6] as const;
const MOVES = ['stays', 'leaves', 'arrives'] as const;

interface KeyBox {
  readonly x: number;
  readonly width: number;
  readonly height: number;
  readonly isBlack: boolean;
}

export interface KeysView {
  readonly element: SVGElement;
  show(moves: readonly ToneMove[]): void;
}

export function createKeysView(
  chords: readonly FormChord[],
  width: number,
  height: number,
  distanceM: number,
): KeysView {
  const white = width / 7;
  const type = Math.max(
    sansPx(farPx(distanceM, LEGIBLE.name)),
    Math.min(white * 0.46, height * 0.19),
  );
  const plate = type * 1.3;
  const boxes = PLACES.map((at): KeyBox => {
    const isBlack = at % 1 !== 0;
    const black = white * 0.7;
    return isBlack
      ? {
          isBlack,
          x: (at + 0.5) * white - black / 2,
          width: black,
          height: Math.min(height * 0.62, height - plate - 14),
        }
      : { isBlack, x: at * white, width: white, height };
  });
  const element = svg('svg', { class: 'stage-keys', width, height, role: 'img' });
  const marks = new Map<number, (face: string | null) => void>();
  const faces = facesOf(chords);
  const drawKey = (box: KeyBox, pc: number): void => {
    element.append(keyElement(box));
    const byFace = new Map<string, SVGElement>();
    for (const move of faces.get(pc) ?? []) {
      const face = svg('g', { class: 'face' }, ...faceElements(box, move, type, plate));
      byFace.set(faceOf(move), face);
      element.append(face);
    }
    marks.set(pc, createMark(byFace, 'seen'));
  };
  boxes.forEach((box, pc) => {
    if (!box.isBlack) drawKey(box, pc);
  });
  boxes.forEach((box, pc) => {
    if (box.isBlack) drawKey(box, pc);
  });
  return {
    element,
    show(moves) {
      const byPc = new Map(moves.map((move) => [move.pc, move]));
      for (const [pc, mark] of marks) {
        const move = byPc.get(pc);
        mark(move === undefined ? null : faceOf(move));
      }
      element.setAttribute('aria-label', wordsOf(moves));
    },
  };
}

const faceOf = ({ note, move }: ToneMove): string => `${note} ${move}`;

function keyElement({ x, width, height, isBlack }: KeyBox): SVGElement {
  return svg('rect', { class: isBlack ? 'stage-key black' : 'stage-key', x, y: 0, width, height });
}

function faceElements(
  { x, width, height, isBlack }: KeyBox,
  { note, move }: ToneMove,
  type: number,
  plate: number,
): readonly SVGElement[] {
  const wide = width - (isBlack ? 6 : 10);
  const top = height - plate - (isBlack ? 3 : 5);
  const middle = x + width / 2;
  const above =
    move === 'leaves'
      ? [svg('rect', { class: 'stage-old', x: x + 1, y: 0, width: width - 2, height: top - 2 })]
      : move === 'arrives'
        ? [svg('rect', { class: 'stage-new', x: middle - 4, y: 0, width: 8, height: top })]
        : [];
  return [
    ...above,
    svg('rect', {
      class: `stage-plate ${move}`,
      ...{ x: middle - wide / 2, y: top, width: wide, height: plate },
    }),
    svg(
      'text',
      {
        class: `stage-tone ${move}`,
        ...{ x: middle, y: top + plate / 2 + type * 0.33, 'font-size': type },
      },
      withSigns(note),
    ),
  ];
}

/** All faces of each key: every way the palettes spell it, staying, leaving and arriving. */
function facesOf(chords: readonly FormChord[]): ReadonlyMap<number, readonly ToneMove[]> {
  const faces = new Map<number, ToneMove[]>();
  for (const chord of chords) {
    for (const { note, pc } of toneMoves(chord, chord)) {
      const own = faces.get(pc) ?? [];
      faces.set(pc, own);
      if (own.some((face) => face.note === note)) continue;
      own.push(...MOVES.map((move) => ({ note, pc, move })));
    }
  }
  return faces;
}

function wordsOf(moves: readonly ToneMove[]): string {
  const listed = (move: ToneMove['move']): string =>
    moves
      .filter((tone) => tone.move === move)
      .map(({ note }) => withSigns(note))
      .join(' ');
  const parts = [
    `Palette ${moves
      .filter(({ move }) => move !== 'arrives')
      .map(({ note }) => withSigns(note))
      .join(' ')}.`,
    listed('leaves') === '' ? '' : `Leaving: ${listed('leaves')}.`,
    listed('arrives') === '' ? '' : `Arriving: ${listed('arrives')}.`,
  ];
  return parts.filter((part) => part !== '').join(' ');
}
