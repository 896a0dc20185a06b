/** Where a rule looks: each chord of a plan as written, with what comes before and after it in the playing. */

import { type Chart, chordContexts, playOrder, type WrittenChord } from '../chart/index.ts';
import type { ChordSymbol, Key } from '../theory/index.ts';
import type { ChordPlace } from './set-palette.ts';
import { planChords, planContents, writtenBars } from './written.ts';

/** One chord that a rule may change. Places count from 0. */
export interface Spot extends ChordPlace {
  readonly chord: number;
  readonly written: WrittenChord;
  readonly symbol: ChordSymbol;
  readonly key: Key;
  /** The next different chord, after the end of the form its start; null where repeats lead to different ones. */
  readonly next: ChordSymbol | null;
  /** Whether that chord follows at once, wherever this one is played: it is not held into another bar. */
  readonly isLast: boolean;
  /** The different chord before it, under the same condition as `next`. */
  readonly previous: ChordSymbol | null;
}

/** A place as it is met in the playing; met differently, it is `null` where it differs. */
interface Met {
  readonly next: ChordSymbol | null;
  readonly previous: ChordSymbol | null;
  readonly isLast: boolean;
}

/** The chords of a plan that are written out. A `%` of `plain` is changed where its bar is written. */
export function spotsOf(chart: Chart, plan: string): readonly Spot[] {
  const chords = planChords(chart, plan);
  const contents = planContents(chart, plan);
  const met = meetings(chart, chords);
  return writtenBars(chart).flatMap((writtenBar, bar) => {
    const isRepeat = contents[bar]?.kind === 'same' && writtenBar.content.kind === 'same';
    if (isRepeat) return [];
    return (chords[bar] ?? []).flatMap((written, chord): readonly Spot[] => {
      const around = met.get(nameOf({ bar, chord }));
      if (written.symbol === null || around === undefined) return [];
      return [{ bar, chord, written, symbol: written.symbol, key: chart.key, ...around }];
    });
  });
}

function nameOf({ bar, chord }: ChordPlace): string {
  return `${bar} ${chord}`;
}

function meetings(
  chart: Chart,
  chords: readonly (readonly WrittenChord[])[],
): ReadonlyMap<string, Met> {
  const played = playOrder(writtenBars(chart)).flatMap((bar) =>
    (chords[bar] ?? []).map(({ symbol }, chord) => ({ name: nameOf({ bar, chord }), symbol })),
  );
  const contexts = chordContexts(played.map(({ symbol }) => symbol));
  const met = new Map<string, Met>();
  played.forEach(({ name }, index) => {
    const { next = null, previous = null } = contexts[index] ?? {};
    const after = played[(index + 1) % played.length]?.symbol ?? null;
    const isLast = after !== null && after.text === next?.text;
    const before = met.get(name);
    met.set(name, {
      next: before === undefined ? next : agreed(before.next, next),
      previous: before === undefined ? previous : agreed(before.previous, previous),
      isLast: isLast && (before?.isLast ?? true),
    });
  });
  return met;
}

function agreed(one: ChordSymbol | null, other: ChordSymbol | null): ChordSymbol | null {
  return one?.text === other?.text ? one : null;
}
