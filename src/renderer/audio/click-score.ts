/** When the click sounds. Pure: the stage only makes it audible. */

import { beatsPerBar, type Form, groupStarts } from '../../core/chart/index.ts';
import { type BeatClock, slotFraction } from '../../core/grid/index.ts';
import type { SlotsPerBeat } from '../../core/words.ts';
import type { ClickStrength, SoundEvent } from './sound-event.ts';

/** Bars in which nothing but the player sounds: a test of the time within. */
export type SilentBars =
  | { readonly kind: 'none' }
  /** So many bars with sound, then so many without, over and over from the first bar on. */
  | { readonly kind: 'alternate'; readonly sounding: number; readonly silent: number }
  /** Bars of the form by their numbers, in every chorus. */
  | { readonly kind: 'chosen'; readonly bars: readonly number[] };

export interface ClickSettings {
  readonly countInBars: 1 | 2;
  /** On 2 and 4 counts from 1 in the bar: the even beats. */
  readonly on: 'everyBeat' | 'twoAndFour' | 'none';
  readonly accent: boolean;
  /** Clicks in each beat, the further ones softer. */
  readonly subdivision: SlotsPerBeat;
  /** Long : short of two clicks in a beat; 1 is straight. */
  readonly swing: number;
  readonly silentBars: SilentBars;
}

/** Whether a bar of a performance is silent: its place in the performance (from 0), its number in the form. */
export function isSilentBar(silentBars: SilentBars, place: number, bar: number): boolean {
  if (silentBars.kind === 'none') return false;
  if (silentBars.kind === 'chosen') return silentBars.bars.includes(bar);
  const { sounding, silent } = silentBars;
  return place % (sounding + silent) >= sounding;
}

/** One bar of a performance, choruses one after another. */
export interface PerformedBar {
  /** From 0, through all choruses. */
  readonly place: number;
  readonly barIndex: number;
  /** Beats from the first downbeat. */
  readonly firstBeat: number;
  readonly beats: number;
}

/** The bars of a performance in order, without end when no choruses are given. */
export function* performedBars(form: Form, choruses: number | null): Generator<PerformedBar> {
  let place = 0;
  let firstBeat = 0;
  for (let chorus = 0; choruses === null || chorus < choruses; chorus++) {
    for (const [barIndex, { meter }] of form.bars.entries()) {
      const beats = beatsPerBar(meter);
      yield { place, barIndex, firstBeat, beats };
      place++;
      firstBeat += beats;
    }
  }
}

/**
 * The clicks of a performance from its count-in on, in order. The count-in is so many bars of the form's first meter,
 * on every beat whatever the click does afterwards: without it nobody could begin.
 */
export function* clickScore(
  form: Form,
  clock: BeatClock,
  choruses: number | null,
  settings: ClickSettings,
): Generator<SoundEvent> {
  const first = form.bars[0]?.meter ?? form.meter;
  const inBar = beatsPerBar(first);
  const countIn = settings.countInBars * inBar;
  const firstBeatMs = clock.beatMs(0);
  for (let beat = -countIn; beat < 0; beat++) {
    const strength = strengthOf((beat + countIn) % inBar, 0, true, groupStarts(first));
    yield { kind: 'click', atMs: beat * firstBeatMs, strength };
  }
  if (settings.on === 'none') return;
  for (const { place, barIndex, firstBeat, beats } of performedBars(form, choruses)) {
    if (isSilentBar(settings.silentBars, place, form.bars[barIndex]?.bar ?? 0)) continue;
    const { meter } = form.bars[barIndex] ?? form;
    const groups = groupStarts(meter);
    for (let count = 0; count < beats; count++) {
      if (settings.on === 'twoAndFour' && count % 2 === 0) continue;
      for (let sub = 0; sub < settings.subdivision; sub++) {
        const fraction = slotFraction(sub, settings.subdivision, settings.swing, meter);
        const atMs = clock.timeMs(firstBeat + count + fraction);
        yield { kind: 'click', atMs, strength: strengthOf(count, sub, settings.accent, groups) };
      }
    }
  }
}

/** Where eighths are counted in groups, those within a group are as soft as the parts of a beat. */
function strengthOf(
  count: number,
  sub: number,
  accent: boolean,
  groups: ReadonlySet<number>,
): ClickStrength {
  if (sub > 0 || !groups.has(count)) return 'sub';
  return accent && count === 0 ? 'accent' : 'beat';
}

/** Length of a performance without its count-in, ms; null when it has no end. */
export function lengthMs(form: Form, clock: BeatClock, choruses: number | null): number | null {
  if (choruses === null) return null;
  const beats = form.bars.reduce((sum, { meter }) => sum + beatsPerBar(meter), 0);
  return clock.timeMs(choruses * beats);
}
