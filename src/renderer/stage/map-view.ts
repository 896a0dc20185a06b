/**
 * The form as one line: thick where the line held, broken where it broke, thin where it is still to come; the bar under way a
 * block. Of a form that is on the page the choruses, of a longer one the sections of the present chorus.
 */

import type { Form } from '../../core/chart/index.ts';
import { createMark } from '../look/mark.ts';
import { make, shapeElement, span, svg } from './dom.ts';
import type { BarState, FormMap } from './form-map.ts';
import { mapMarkPx, type StageLayout } from './layout.ts';
import { breakMark } from './marks.ts';
import type { Moment } from './moment.ts';

export interface MapView {
  readonly element: HTMLElement;
  showMoment(moment: Moment): void;
  /** Draws what is new. */
  draw(map: FormMap): void;
}

/** A stretch of the map: a chorus, or a section of one. */
interface Group {
  readonly name: string;
  /** Null: of whichever chorus is under way. */
  readonly chorus: number | null;
  readonly from: number;
  readonly bars: number;
}

const SPACE = 20;
/** So many choruses stand beside one another. */
const MOST_CHORUSES = 4;
const SECTION_BARS = 8;

export function createMapView(
  form: Form,
  layout: StageLayout,
  distanceM: number,
  choruses: number | null,
): MapView {
  const mark = mapMarkPx(distanceM);
  const line = 26 + mark / 2;
  const element = make('stage-map');
  element.style.paddingInline = `${layout.edge}px`;
  let drawn: Drawn | null = null;
  let firstChorus = 1;
  let shownChorus = 1;

  function groups(): readonly Group[] {
    if (!layout.page.isWhole) return sectionsOf(form);
    const count = Math.min(choruses ?? MOST_CHORUSES, MOST_CHORUSES);
    return Array.from({ length: count }, (_, index) => ({
      ...{ name: `chorus ${firstChorus + index}`, chorus: firstChorus + index },
      ...{ from: 0, bars: form.bars.length },
    }));
  }
  function lay(): Drawn {
    const laid = layGroups(groups(), layout.width, line, mark);
    element.replaceChildren(laid.drawing);
    return laid;
  }
  function present(): Drawn {
    drawn ??= lay();
    return drawn;
  }
  return {
    element,
    showMoment({ chorus, bar, before }) {
      if (chorus !== shownChorus) {
        shownChorus = chorus;
        const last = (choruses ?? Number.POSITIVE_INFINITY) - MOST_CHORUSES + 1;
        const first = Math.max(1, Math.min(chorus - MOST_CHORUSES + 2, last));
        if (!layout.page.isWhole || first !== firstChorus) drawn = null;
        firstChorus = first;
      }
      const barAt = bar === null || before !== null ? null : bar - (form.bars[0]?.bar ?? 1);
      present().mark(chorus, barAt);
    },
    draw: (map) => present().draw(map, shownChorus),
  };
}

/** Sections as they follow one another; eights where there are none. */
function sectionsOf(form: Form): readonly Group[] {
  const groups: { name: string; chorus: null; from: number; bars: number }[] = [];
  let section: string | null | undefined;
  form.bars.forEach((bar, at) => {
    const last = groups.at(-1);
    const isNew =
      bar.section !== section || (bar.section === null && (last?.bars ?? 0) >= SECTION_BARS);
    section = bar.section;
    if (last !== undefined && !isNew) last.bars++;
    else groups.push({ name: bar.section ?? `bar ${bar.bar}`, chorus: null, from: at, bars: 1 });
  });
  return groups;
}

interface Drawn {
  readonly drawing: Node;
  mark(chorus: number, barAt: number | null): void;
  draw(map: FormMap, chorus: number): void;
}

function layGroups(groups: readonly Group[], width: number, line: number, mark: number): Drawn {
  const count = groups.reduce((sum, { bars }) => sum + bars, 0);
  const bar = (width - SPACE * (groups.length - 1)) / count;
  const places: { readonly group: Group; readonly barAt: number; readonly x: number }[] = [];
  const drawing = make('stage-map-inner');
  const ground: string[] = [];
  const nameOf = new Map<Group, HTMLElement>();
  let x = 0;
  for (const group of groups) {
    const name = span('stage-map-name', group.name);
    name.style.left = `${x}px`;
    nameOf.set(group, name);
    drawing.append(name);
    ground.push(`M${x} ${line}h${bar * group.bars}`);
    for (let index = 0; index < group.bars; index++) {
      if (index > 0) ground.push(`M${x + index * bar} ${line + 9}v5`);
      places.push({ group, barAt: group.from + index, x: x + index * bar });
    }
    x += bar * group.bars + SPACE;
  }
  const blocks = places.map((at) =>
    svg('rect', {
      class: 'stage-map-now',
      ...{ x: at.x + 2, y: line - mark / 2, width: Math.max(2, bar - 4), height: mark },
    }),
  );
  const cells = places.map(() => svg('g', { class: 'stage-map-bar' }));
  const picture = svg(
    'svg',
    { width, height: line + 14, role: 'img', 'aria-label': 'Map of the form' },
    svg('path', { class: 'stage-bar-line', d: ground.join('') }),
    ...cells,
    ...blocks,
  );
  drawing.append(picture);
  const states: BarState[] = places.map(() => 'toCome');
  const markBlock = createMark(new Map(blocks.map((block, index) => [index, block])), 'now');
  const markName = createMark(nameOf, 'now');
  return {
    drawing,
    mark(chorus, barAt) {
      const index = places.findIndex(
        ({ group, barAt: own }) => own === barAt && (group.chorus ?? chorus) === chorus,
      );
      markBlock(index < 0 ? null : index);
      const under =
        places[index]?.group ?? groups.find((group) => (group.chorus ?? chorus) === chorus);
      markName(under ?? null);
    },
    draw(map, chorus) {
      places.forEach(({ group, barAt, x: left }, index) => {
        const state = map.stateOf(group.chorus ?? chorus, barAt);
        if (state === states[index]) return;
        states[index] = state;
        cells[index]?.replaceChildren(...cellOf(state, left, line, bar, mark));
      });
    },
  };
}

function cellOf(
  state: BarState,
  left: number,
  line: number,
  width: number,
  mark: number,
): readonly SVGElement[] {
  const held = (from: number, to: number): SVGElement =>
    svg('path', { class: 'stage-map-held', d: `M${from} ${line}H${to}` });
  if (state === 'toCome') return [];
  if (state === 'held') return [held(left - 0.3, left + width + 0.3)];
  // Too narrow for the marks themselves: a bar that broke is hollow.
  if (width < mark * 1.9) {
    return [
      svg('rect', {
        class: 'stage-map-broken',
        ...{ x: left + 1.5, y: line - mark / 2, width: Math.max(2, width - 3), height: mark },
      }),
    ];
  }
  const middle = left + width / 2;
  const half = mark * 0.9;
  return [
    held(left - 0.3, middle - half),
    held(middle + half, left + width + 0.3),
    svg('rect', {
      class: 'stage-map-gap',
      ...{ x: middle - half, y: line - 4, width: half * 2, height: 8 },
    }),
    ...breakMark(state, middle, line, mark).map(shapeElement),
  ];
}
