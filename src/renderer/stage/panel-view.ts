/**
 * What is looked at most: the chord in force, the beat, the next chord and how soon it comes, the palette. Everything that may be
 * seen is laid out from the start, so that no change moves anything.
 */

import { beatsPerBar, type Form, type FormChord } from '../../core/chart/index.ts';
import { paletteName } from '../../core/theory/index.ts';
import { createMark } from '../look/mark.ts';
import { withSigns } from '../look/signs.ts';
import { type ToneMove, toneMoves } from '../palette/palette-words.ts';
import { chordElement, nameOf } from './chord-element.ts';
import { make, place, span } from './dom.ts';
import { createKeysView } from './keys-view.ts';
import { COUNT_LINE, type StageLayout } from './layout.ts';
import type { Moment } from './moment.ts';
import { moveWords } from './tone-moves.ts';

export interface PanelView {
  readonly element: HTMLElement;
  /** `isSilent`: click and chords are left out in this bar. */
  show(moment: Moment, isSilent: boolean): void;
}

export function createPanelView(form: Form, layout: StageLayout, distanceM: number): PanelView {
  const chords = chordsOf(form);
  const names = [...new Set(chords.map(nameOf))];
  const beats = Math.max(...form.bars.map(({ meter }) => beatsPerBar(meter)));
  const figures = Array.from({ length: beats }, (_, index) => `${index + 1}`);

  const now = stack('stage-now', [
    ...names.map((name) => [name, chordElement(name)] as const),
    ...figures.map((figure) => [figure, span('stage-chord', figure)] as const),
  ]);
  const next = stack(
    'stage-next',
    names.map((name) => [name, chordElement(name)] as const),
  );
  const cells = figures.map((figure) => span('stage-cell', figure));
  const markBeat = createMark(new Map(cells.map((cell, index) => [index + 1, cell])), 'now');
  const soon = new Text('');
  const silent = span('stage-silent', 'silent');
  const keys =
    layout.keys === null
      ? null
      : createKeysView(chords, layout.keys.width, layout.keys.height, distanceM);
  const moves = stack('stage-moves', moveLines(form));

  const element = make(
    'stage-panel',
    now.element,
    next.element,
    make('stage-beats', ...cells),
    make('stage-soon', span('', soon), silent),
    ...(keys === null ? [] : [keys.element]),
    ...(layout.isWide ? [moves.element] : []),
  );
  placeAll(element, layout, keys?.element ?? null);

  let shownBeats = 0;
  function showCells(count: number): void {
    if (count === shownBeats) return;
    shownBeats = count;
    cells.forEach((cell, index) => {
      cell.style.visibility = index < count ? '' : 'hidden';
    });
  }
  return {
    element,
    show(moment, isSilent) {
      const { chord, beat, before, bar, beatsLeft } = moment;
      const meter = form.bars.find((each) => each.bar === (bar ?? form.bars[0]?.bar))?.meter;
      showCells(beatsPerBar(meter ?? form.meter));
      const isCounted = before === 'countIn';
      now.show(isCounted ? `${beat}` : nameOf(chord));
      next.show(nameOf(isCounted ? chord : moment.next));
      // What is not in force yet is hollow.
      setHollow(now.element, beat === null);
      setHollow(next.element, isCounted);
      markBeat(beat);
      soon.nodeValue = beat === null ? '' : soonWords(beatsLeft, layout.isWide);
      silent.classList.toggle('seen', isSilent);
      const tones = toneMoves(chord, moment.isNear ? moment.next : chord);
      keys?.show(tones);
      moves.show(movesKey(chord, tones));
    },
  };
}

/** An outline alone, of which a reader of screens knows nothing: the bar it comes from has the same name. */
function setHollow(element: HTMLElement, isHollow: boolean): void {
  element.classList.toggle('hollow', isHollow);
  element.ariaHidden = isHollow ? 'true' : null;
}

export function chordsOf(form: Form): readonly FormChord[] {
  return [...(form.pickup?.chords ?? []), ...form.bars.flatMap(({ chords }) => chords)];
}

function soonWords(beats: number, isWide: boolean): string {
  if (!isWide) return `in ${beats}`;
  return beats === 1 ? 'in 1 beat' : `in ${beats} beats`;
}

interface Stack {
  readonly element: HTMLElement;
  show(key: string): void;
}

/** Contents laid one upon another, of which one is seen. */
function stack(look: string, contents: readonly (readonly [string, HTMLElement])[]): Stack {
  const element = make(`${look} stage-stack`, ...contents.map(([, content]) => content));
  return { element, show: createMark(new Map(contents), 'seen') };
}

/** What stands beside the keys: the name of the palette, or near a change what moves. */
function moveLines(form: Form): readonly (readonly [string, HTMLElement])[] {
  const chords = chordsOf(form);
  const lines = new Map<string, HTMLElement>();
  chords.forEach((chord, index) => {
    const next = [...chords.slice(index + 1), ...chords].find(
      (other) => nameOf(other) !== nameOf(chord),
    );
    for (const tones of [toneMoves(chord, chord), toneMoves(chord, next ?? chord)]) {
      const key = movesKey(chord, tones);
      if (lines.has(key)) continue;
      const words = moveWords(tones);
      lines.set(key, words.length === 0 ? span('', key) : span('', words.join('\n')));
    }
  });
  return [...lines];
}

function movesKey({ chosen }: FormChord, tones: readonly ToneMove[]): string {
  const words = moveWords(tones);
  if (words.length > 0) return words.join(', ');
  return chosen === null ? '' : withSigns(paletteName(chosen.palette));
}

function placeAll(panel: HTMLElement, layout: StageLayout, keys: SVGElement | null): void {
  const { great, next, count, moves, beatCell, nextAt, edge, isWide, width } = layout;
  const { style } = panel;
  const variables = { great, next, count, moves, cell: beatCell, total: layout.total };
  for (const [name, px] of Object.entries(variables))
    style.setProperty(`--stage-${name}`, `${px}px`);
  const line = count * COUNT_LINE;
  const second = layout.panel - (isWide ? 20 : 12) - line;
  const at = layout.keys?.at ?? width;
  for (const child of panel.children) {
    if (!(child instanceof HTMLElement)) continue;
    const { classList } = child;
    if (classList.contains('stage-now')) {
      place(child, { left: edge, top: 4, width: nextAt - 8, height: great });
    } else if (classList.contains('stage-next')) {
      // Both chords stand on one line.
      const top = 4 + (great - next) * BASELINE_EM;
      place(child, { left: edge + nextAt, top, width: at - nextAt - 8, height: next });
    } else if (classList.contains('stage-beats')) {
      place(child, { left: edge, top: second, width: nextAt, height: line });
    } else if (classList.contains('stage-soon')) {
      place(child, { left: edge + nextAt, top: second, width: at - nextAt - 8, height: line });
    } else if (classList.contains('stage-moves')) {
      const left = edge + at + (layout.keys?.width ?? 0) + 24;
      const until = layout.panel - 20 - (line - moves) * 0.31;
      place(child, { left, top: 0, width: edge + width - left, height: until });
    }
  }
  if (keys !== null) {
    keys.style.left = `${edge + at}px`;
    keys.style.top = `${4 + great * 0.17}px`;
  }
}

/** Of a line of serif type as high as its size. Source: the ascent and descent of Source Serif 4. */
const BASELINE_EM = 0.85;
