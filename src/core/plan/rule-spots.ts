/** Where a rule looks: each chord of a plan as written, with what stands around it wherever it is played. */

import {
  type Chart,
  chordContexts,
  type FormChord,
  playOrder,
  unrollForm,
  type WrittenChord,
} from '../chart/index.ts';
import type { ChordSymbol, Key, Palette } from '../theory/index.ts';
import { PLAIN } from '../words.ts';
import { isSameHarmony } from './same-chord.ts';
import { isSamePalette } from './same-palette.ts';
import type { ChordPlace } from './set-palette.ts';
import { planChords, writtenBars } from './written.ts';

/**
 * What stands around a chord. A bar under a repeat is played several times: what is not the same each time is null, or
 * false, so that a rule relies on nothing that holds only sometimes.
 */
interface Surroundings {
  /** The next different chord, over whatever bass; after the end of the form that of its start, `N.C.` passed over. */
  readonly next: ChordSymbol | null;
  /** The different chord before it, likewise. */
  readonly previous: ChordSymbol | null;
  /** It begins here: the chord just before is another one, or `N.C.`. */
  readonly isFirst: boolean;
  /** It ends here: `next` follows at once. */
  readonly isLast: boolean;
  /** What its palette is as things stand, named or chosen. */
  readonly palette: Palette | null;
  /** Where the next chord begins, in each of the playings, as `placeName` names it. */
  readonly nextAt: readonly string[];
}

/** One chord that a rule may change. Places count from 0. */
export interface Spot extends ChordPlace, Surroundings {
  readonly written: WrittenChord;
  readonly symbol: ChordSymbol;
  readonly key: Key;
}

/**
 * The chords of a plan in written order, those of a `%` too: a plan may write its bars out one by one. A plan that the
 * chart does not have has the chords of `plain`.
 */
export function spotsOf(chart: Chart, plan: string): readonly Spot[] {
  const met = meetings(chart, plan);
  return planChords(chart, plan).flatMap((chords, bar) =>
    chords.flatMap((written, chord): readonly Spot[] => {
      const around = met.get(placeName({ bar, chord }));
      if (written.symbol === null || around === undefined) return [];
      return [{ bar, chord, written, symbol: written.symbol, key: chart.key, ...around }];
    }),
  );
}

/** A name for a place in a chart, for telling places apart. */
export function placeName({ bar, chord }: ChordPlace): string {
  return `${bar} ${chord}`;
}

function meetings(chart: Chart, plan: string): ReadonlyMap<string, Surroundings> {
  const played = playedChords(chart, plan);
  const contexts = chordContexts(played.map(({ symbol }) => symbol));
  const met = new Map<string, Surroundings>();
  played.forEach(({ name, symbol, chosen }, index) => {
    const next = contexts[index]?.after[0] ?? null;
    const previous = contexts[index]?.before[0] ?? null;
    const before = played.at(index - 1)?.symbol ?? null;
    const after = played[(index + 1) % played.length]?.symbol ?? null;
    const here: Surroundings = {
      next,
      previous,
      isFirst: before?.text !== symbol?.text,
      isLast: after !== null && after.text === next?.text,
      palette: chosen?.palette ?? null,
      nextAt: nextBeginnings(played, index),
    };
    const earlier = met.get(name);
    met.set(name, earlier === undefined ? here : inBoth(earlier, here));
  });
  return met;
}

function nextBeginnings(played: readonly PlayedChord[], index: number): readonly string[] {
  const own = played[index]?.symbol?.text;
  const row = [...played.slice(index + 1), ...played.slice(0, index)];
  const next = row.find(({ symbol }) => symbol !== null && symbol.text !== own);
  return next === undefined ? [] : [next.name];
}

type PlayedChord = FormChord & { readonly name: string };

/** The chords in playing order, each with the name of the place it is written at. */
function playedChords(chart: Chart, plan: string): readonly PlayedChord[] {
  const isThere = chart.plans.some(({ name }) => name === plan);
  const form = unrollForm(chart, isThere ? plan : PLAIN);
  const order = playOrder(writtenBars(chart));
  const bars = form.ok ? form.value.bars : [];
  return bars.flatMap(({ chords }, at) =>
    chords.map((own, chord) => ({ ...own, name: placeName({ bar: order[at] ?? 0, chord }) })),
  );
}

function inBoth(one: Surroundings, other: Surroundings): Surroundings {
  const { palette } = one;
  const isSame =
    palette !== null && other.palette !== null && isSamePalette(palette, other.palette);
  return {
    next: isSameHarmony(one.next, other.next) ? one.next : null,
    previous: isSameHarmony(one.previous, other.previous) ? one.previous : null,
    isFirst: one.isFirst && other.isFirst,
    isLast: one.isLast && other.isLast,
    palette: isSame ? palette : null,
    nextAt: [...one.nextAt, ...other.nextAt],
  };
}
