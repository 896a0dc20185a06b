/** In which order the written bars of a chart are played. */

import type { WrittenBar } from './model.ts';

type FormBarSigns = Pick<
  WrittenBar,
  'repeatStart' | 'repeatEnd' | 'endings' | 'doubleAfter' | 'startMark' | 'endMark'
>;

/** A passage that is repeated. Indices of bars from 0; what `…To` names is no longer part of it. */
export interface Repeat {
  readonly from: number;
  /** What is played each time ends here, and the endings begin. */
  readonly bodyTo: number;
  readonly endings: readonly {
    readonly from: number;
    readonly to: number;
    readonly times: readonly number[];
  }[];
  /** Where it goes on after the last time. */
  readonly to: number;
  /** How often it is played, at least 2. */
  readonly times: number;
}

/**
 * The repeats of a chart, in order. `:|` without `|:` before it repeats from the start, from the last double bar, or from the
 * end of the repeat before, whichever is nearest; an ending without `:|` goes on into what follows. Total: signs that do not
 * add up repeat what they can. Source: `chart-text.md`; the end of a repeat as a beginning is common practice, no source.
 */
export function repeatsOf(bars: readonly FormBarSigns[]): readonly Repeat[] {
  const repeats: Repeat[] = [];
  let from = 0;
  let isOpened = false;
  let endings: { from: number; to: number; times: readonly number[] }[] = [];
  const close = (to: number): void => {
    const numbers = endings.flatMap(({ times }) => times);
    const bodyTo = endings[0]?.from ?? to;
    // Only as many times as an ending says how.
    let times = endings.length === 0 ? 2 : 0;
    while (numbers.includes(times + 1)) times++;
    if (times > 1) repeats.push({ from, bodyTo, endings, to, times });
    from = to;
    isOpened = false;
    endings = [];
  };
  bars.forEach((bar, index) => {
    if (bar.repeatStart) {
      if (endings.length > 0) closeOpenEnding();
      from = index;
      isOpened = true;
      endings = [];
    }
    if (bar.endings.length > 0) endings.push({ from: index, to: index + 1, times: bar.endings });
    if (bar.repeatEnd) {
      const last = endings.at(-1);
      if (last !== undefined) last.to = index + 1;
      if (endings.length === 0 || (bars[index + 1]?.endings ?? []).length === 0) close(index + 1);
    } else if (bar.doubleAfter && !isOpened && endings.length === 0) from = index + 1;
  });
  if (endings.length > 0) closeOpenEnding();
  return repeats;

  /** The last ending has no end of its own: the last time goes on through it. */
  function closeOpenEnding(): void {
    const last = endings.at(-1);
    if (last === undefined) return;
    last.to = last.from;
    close(last.from);
  }
}

/** Longer forms than any chart's are not played: signs that lead round and round. */
const LONGEST = 1_000_000;

/**
 * The written bars in the order they are played, as indices from 0: `|: A |1 B :|2 C |` gives 0 1 0 2. A repeat
 * without endings is played twice, one with endings once for each time they name. After `D.C.` and `D.S.` repeats are not taken again,
 * but their last time at once, as it says until `fine` or by way of the coda. Source: common practice, no source.
 */
export function playOrder(bars: readonly FormBarSigns[]): readonly number[] {
  const starts = new Map(repeatsOf(bars).map((repeat) => [repeat.from, repeat]));
  const segno = bars.findIndex(({ startMark }) => startMark === 'segno');
  const coda = bars.findIndex(({ startMark }) => startMark === 'coda');
  const order: number[] = [];
  let jumped: 'fine' | 'coda' | 'end' | null = null;
  let repeat: Repeat | null = null;
  let time = 1;
  let at = 0;
  while (at < bars.length && order.length < LONGEST) {
    const entered = starts.get(at);
    if (entered !== undefined && entered !== repeat) {
      repeat = entered;
      time = jumped === null ? 1 : entered.times;
    }
    const ending: Repeat['endings'][number] | undefined = repeat?.endings.find(({ times }) =>
      times.includes(time),
    );
    if (repeat !== null && at === repeat.bodyTo && ending !== undefined && at !== ending.from) {
      at = ending.from;
      if (ending.from === ending.to) repeat = null;
      continue;
    }
    order.push(at);
    const mark = bars[at]?.endMark ?? null;
    const isLast = at + 1 === (ending?.to ?? repeat?.bodyTo);
    if (repeat !== null && isLast && time < repeat.times) {
      time++;
      at = repeat.from;
    } else if (jumped === null && mark?.kind === 'jump') {
      jumped = mark.jump.until;
      at = mark.jump.to === 'segno' ? Math.max(segno, 0) : 0;
      repeat = null;
      const around: Repeat | undefined = [...starts.values()].find(
        ({ from, to }) => from <= at && at < to,
      );
      if (around !== undefined) {
        repeat = around;
        time = around.times;
      }
    } else if (mark?.kind === 'fine' && (jumped === 'fine' || jumped === 'end')) return order;
    else if (mark?.kind === 'toCoda' && jumped === 'coda' && coda > at) {
      at = coda;
      repeat = null;
    } else if (repeat !== null && isLast) {
      at = repeat.to;
      repeat = null;
    } else at++;
  }
  return order;
}
