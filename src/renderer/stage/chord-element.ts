/** A chord's name as an element: the root on the line, its suffix raised and smaller. */

import { type FormChord, NO_CHORD } from '../../core/chart/index.ts';
import { chordParts } from '../chart-page/chord-name.tsx';
import { span } from './dom.ts';

export const nameOf = ({ symbol }: FormChord): string => symbol?.text ?? NO_CHORD;

export function chordElement(name: string): HTMLElement {
  const { root, quality, bass } = chordParts(name);
  const suffix = document.createElement('i');
  suffix.append(quality);
  return span('stage-chord', root, ...(quality === '' ? [] : [suffix]), bass);
}
