/**
 * The bars of the page. Each bar of the form is laid out once; it is put into the place it is to stand in, and out of it what is
 * drawn in it changes alone.
 */

import {
  beatsPerBar,
  type Form,
  type FormBar,
  type FormChord,
  PICKUP_BAR,
} from '../../core/chart/index.ts';
import type { BarDrawing } from '../chart-page/line-model.ts';
import { createShapeLayer } from '../chart-page/shape-layer.ts';
import { createMark } from '../look/mark.ts';
import { BAR_TOP, type BarBox, barShapes, frameOf } from './bar-shapes.ts';
import { chordElement, nameOf } from './chord-element.ts';
import { make, place, span, svg } from './dom.ts';
import type { StageLayout } from './layout.ts';
import type { Moment } from './moment.ts';
import { barShownAt, type ChorusBar } from './shown-bars.ts';

/** Drawings by bar, of a chorus. */
export type DrawingsOf = (chorus: number) => ReadonlyMap<number, BarDrawing>;

export interface BarsView {
  readonly element: HTMLElement;
  /** Draws the line of a chorus anew in the bars on the page where it has changed. */
  drawLine(drawings: DrawingsOf, chorus: number, changed: (bar: number) => boolean): void;
  showMoment(moment: Moment): void;
  /** Puts the next bar where it is to stand; false: all stand there already. */
  turn(moment: Moment, drawings: DrawingsOf): boolean;
  drawPickup(drawing: BarDrawing | undefined): void;
}

interface Place {
  readonly row: number;
  readonly column: number;
  shown: ChorusBar | null;
}

export function createBarsView(form: Form, layout: StageLayout, choruses: number | null): BarsView {
  const { page, edge } = layout;
  // The line lies over all bars: what leads on into the next one is not covered by it.
  const ground = make('stage-bars');
  const lines = make('stage-lines');
  const element = make('stage-rows', ground, lines);
  const bars = form.bars.map((bar, barAt) => createBar(form, bar, barAt, layout));
  const pickup = form.pickup === null ? null : createPickup(form, layout);
  for (const bar of [...bars, ...(pickup === null ? [] : [pickup])]) {
    ground.append(bar.element);
    lines.append(bar.line);
  }
  if (pickup !== null) moveTo(pickup, edge, TOP);
  const places: Place[] = [];
  for (let row = 0; row < page.rowCount; row++) {
    for (let column = 0; column < page.perRow; column++) places.push({ row, column, shown: null });
  }
  const markBar = createMark(
    new Map<number | null, Element>(
      bars.map(({ element: own }, at) => [form.bars[at]?.bar ?? null, own]),
    ),
    'current',
  );
  const beats = new Map(
    bars.flatMap((bar, at) => bar.beats.map((beat, index) => [`${at} ${index + 1}`, beat])),
  );
  const markBeat = createMark(beats, 'now');
  const firstBar = form.bars[0]?.bar ?? 1;
  const ofForm = { bars: form.bars.length, choruses };
  /** By place in the form: the chorus whose line a bar shows. */
  const chorusShown = new Map<number, number>();

  function draw(barAt: number, drawings: DrawingsOf): void {
    const chorus = chorusShown.get(barAt) ?? 1;
    const bar = barAt + firstBar;
    bars[barAt]?.show(drawings(chorus).get(bar), drawings(chorus - 1).get(bar));
  }
  function underWay({ chorus, bar, beat, before }: Moment): ChorusBar & { readonly beat: number } {
    const isBefore = before !== null || bar === null;
    return { barAt: isBefore ? 0 : bar - firstBar, chorus, beat: isBefore ? 1 : (beat ?? 1) };
  }
  return {
    element,
    drawLine(drawings, chorus, changed) {
      for (const barAt of chorusShown.keys()) {
        if (!changed(barAt + firstBar)) continue;
        // What is played now is seen, though the page has not been turned there yet.
        chorusShown.set(barAt, chorus);
        for (const at of places) if (at.shown?.barAt === barAt) at.shown = { barAt, chorus };
        draw(barAt, drawings);
      }
    },
    showMoment({ bar, beat, before }) {
      const isPlayed = bar !== null && before === null;
      markBar(isPlayed ? bar : null);
      markBeat(isPlayed ? `${bar - firstBar} ${beat}` : null);
      const isCovered = pickup !== null && (before !== null || bar === null);
      if (pickup !== null) {
        setSeen(pickup, isCovered);
        pickup.element.classList.toggle('current', bar === PICKUP_BAR);
      }
      const [first] = bars;
      if (first === undefined) return;
      first.element.classList.toggle('covered', isCovered);
      first.element.classList.toggle('waits', before === 'countIn');
    },
    turn(moment, drawings) {
      const now = underWay(moment);
      const owed = places.flatMap((at) => {
        const wished = barShownAt(at, now, page, ofForm);
        const { shown } = at;
        const isSame = wished?.barAt === shown?.barAt && wished?.chorus === shown?.chorus;
        return isSame ? [] : [{ at, wished, aheadBy: wished === null ? 0 : aheadBy(wished) }];
      });
      // The bar under way first, then those that come soonest.
      const [next] = owed.sort((one, other) => one.aheadBy - other.aheadBy);
      if (next === undefined) return false;
      put(next.at, next.wished);
      return true;

      function aheadBy({ barAt, chorus }: ChorusBar): number {
        const by = (chorus - now.chorus) * form.bars.length + barAt - now.barAt;
        return by < 0 ? form.bars.length - by : by;
      }
      function put(at: Place, wished: ChorusBar | null): void {
        const { shown } = at;
        at.shown = wished;
        if (shown !== null && shown.barAt !== wished?.barAt) {
          chorusShown.delete(shown.barAt);
          const left = bars[shown.barAt];
          if (left !== undefined) setSeen(left, false);
        }
        if (wished === null) return;
        // It may stand in another place still, which has another to show and has not come to it.
        for (const other of places) {
          if (other !== at && other.shown?.barAt === wished.barAt) other.shown = null;
        }
        chorusShown.set(wished.barAt, wished.chorus);
        draw(wished.barAt, drawings);
        const own = bars[wished.barAt];
        if (own === undefined) return;
        setSeen(own, true);
        moveTo(own, edge + at.column * page.bar, TOP + at.row * (page.row + page.gap));
      }
    },
    drawPickup: (drawing) => pickup?.show(drawing, undefined),
  };
}

/** Above the first row. */
const TOP = 8;

interface BarView {
  /** What stands still: bar lines, chords, the bar's number. */
  readonly element: HTMLElement;
  /** What is drawn through it. */
  readonly line: SVGElement;
  readonly beats: readonly SVGElement[];
  show(drawing: BarDrawing | undefined, before: BarDrawing | undefined): void;
}

function setSeen({ element, line }: BarView, isSeen: boolean): void {
  element.classList.toggle('seen', isSeen);
  line.classList.toggle('seen', isSeen);
}

function moveTo({ element, line }: BarView, left: number, top: number): void {
  for (const { style } of [element, line]) style.transform = `translate(${left}px, ${top}px)`;
}

function createBar(form: Form, bar: FormBar, barAt: number, layout: StageLayout): BarView {
  const { page } = layout;
  const box: BarBox = {
    ...{ width: page.bar, height: page.row, root: layout.root, mark: layout.mark },
    below: page.below,
    isLast: (barAt + 1) % page.perRow === 0 || barAt === form.bars.length - 1,
  };
  const isEnd = barAt === form.bars.length - 1;
  const nextSection = form.bars[barAt + 1]?.section;
  const isSectionEnd = nextSection !== undefined && nextSection !== bar.section;
  const isSectionStart = bar.section !== null && form.bars[barAt - 1]?.section !== bar.section;
  const view = createBarView(box, bar, bar.chords, layout, changesOf(form, barAt));
  view.element.prepend(
    span(
      'stage-number',
      ...(isSectionStart && bar.section !== null ? [bold(bar.section)] : []),
      span('', span('hidden-words', 'bar '), `${bar.bar}`),
    ),
  );
  const ends = endLines(box, isEnd, isSectionEnd);
  view.ground.append(...ends);
  return view;
}

function createPickup(form: Form, layout: StageLayout): BarView {
  const { page } = layout;
  const { pickup } = form;
  const chords = pickup?.chords ?? [];
  const box: BarBox = {
    ...{ width: page.bar, height: page.row, root: layout.root, mark: layout.mark },
    ...{ below: page.below, isLast: true },
  };
  const meter = pickup?.meter ?? form.meter;
  const view = createBarView(box, { meter }, chords, layout, []);
  view.element.classList.add('pickup-bar');
  view.line.classList.add('pickup-line');
  view.element.prepend(span('stage-number', 'pickup'));
  view.ground.append(...endLines(box, false, false));
  return view;
}

function bold(words: string): HTMLElement {
  const element = document.createElement('b');
  element.append(words);
  return element;
}

/** The bar line at a bar's end where no other bar brings one. */
function endLines(
  { width, height, below, isLast }: BarBox,
  isEnd: boolean,
  isSectionEnd: boolean,
): readonly SVGElement[] {
  const line = (x: number, look: string): SVGElement =>
    svg('path', { class: look, d: `M${x} ${BAR_TOP - 2}V${height - below}` });
  if (isEnd) return [line(width - 2.5, 'stage-bar-line end'), line(width - 9, 'stage-bar-line')];
  return [
    ...(isLast ? [line(width, 'stage-bar-line')] : []),
    ...(isSectionEnd ? [line(width - 7, 'stage-bar-line')] : []),
  ];
}

function createBarView(
  box: BarBox,
  { meter }: Pick<FormBar, 'meter'>,
  chords: readonly FormChord[],
  { mark, root }: StageLayout,
  changesAt: readonly number[],
): BarView & { readonly ground: SVGElement } {
  const { width, height } = box;
  const frame = frameOf(box);
  const beatCount = beatsPerBar(meter);
  const beatWidth = frame.x(1 / beatCount) - frame.x(0);
  const beats = Array.from({ length: beatCount }, (_, beat) =>
    svg('rect', {
      class: 'stage-beat',
      ...{ x: frame.x(beat / beatCount) - mark * 0.4, y: frame.foot - frame.rail },
      ...{ width: beatWidth - 6, height: frame.rail },
    }),
  );
  const ticks = beats.map((_, beat) => `M${frame.x(beat / beatCount)} ${frame.foot}v-4`).join('');
  const size = { width, height, 'aria-hidden': 'true' };
  const ground = svg(
    'svg',
    { class: 'stage-ground', ...size },
    svg('path', {
      class: 'stage-bar-line',
      d: `M0 ${BAR_TOP - 2}V${frame.foot}${ticks}M0 ${frame.foot}H${width}`,
    }),
    ...beats,
  );
  const line = svg('svg', { class: 'line-layer', ...size });
  const layer = createShapeLayer(line);
  const names = chords.map((chord) => {
    const name = chordElement(nameOf(chord));
    const left = frame.x((chord.beat - 1) / beatCount) - mark * 0.4;
    place(name, { left, top: BAR_TOP + root * 0.16 });
    return name;
  });
  const tint = make('stage-tint');
  place(tint, { left: 0, top: BAR_TOP - 2, width, height: frame.foot - BAR_TOP + 2 });
  const element = make('stage-bar', tint, ground, ...names);
  place(element, { width, height });
  return {
    ...{ element, line, beats, ground },
    show: (drawing, before) => layer.show(barShapes(box, { drawing, before, changesAt })),
  };
}

/** Where in a bar a chord begins whose palette is another than the one before it, as shares of the bar. */
function changesOf(form: Form, barAt: number): readonly number[] {
  const bar = form.bars[barAt];
  if (bar === undefined) return [];
  const beatCount = beatsPerBar(bar.meter);
  let before = form.bars[barAt === 0 ? form.bars.length - 1 : barAt - 1]?.chords.at(-1);
  return bar.chords.flatMap((chord) => {
    const isOther = !isSamePalette(before, chord) && chord.chosen !== null;
    before = chord;
    return isOther ? [(chord.beat - 1) / beatCount] : [];
  });
}

function isSamePalette(one: FormChord | undefined, other: FormChord): boolean {
  const pcs = (chord: FormChord | undefined): string =>
    [...(chord?.chosen?.palette.pcs ?? [])].sort((a, b) => a - b).join(' ');
  return pcs(one) === pcs(other);
}
