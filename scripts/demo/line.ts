/**
 * An invented line over a form: the cheapest path through all slots, one key each, over costs drawn by chance. It obeys
 * the rules of its level and shows every change as soon as it can, except where a fault is planted.
 */

import type { Form, FormChord } from '../../src/core/chart/index.ts';
import {
  hasPc,
  judgeInterval,
  type PaletteView,
  viewPalette,
} from '../../src/core/grading/index.ts';
import { createBeatClock, createSlotGrid } from '../../src/core/grid/index.ts';
import { chordPcs } from '../../src/core/theory/index.ts';
import { type DemoTake, type Place, plantedAt } from './faults.ts';
import { seededChance } from './random.ts';

const LOWEST = 60;
const HIGHEST = 84;

/** What one slot asks of its note. */
interface SlotWish {
  readonly place: Place;
  readonly palette: PaletteView;
  readonly chordTones: ReadonlySet<number>;
  /** Pitch classes that show the change: of the new palette and not of the old; 0 where nothing has to be shown. */
  readonly proofMask: number;
  /** The old palette hangs on: a planted late change. */
  readonly hangsOn: boolean;
  /** Slots since the change. */
  readonly sinceChange: number;
  readonly allowed: (midi: number) => boolean;
  readonly interval: 'open' | 'third';
  /** Whether this slot closes a stretch in which the change must have shown. */
  readonly mustShow: boolean;
}

export interface LineNote {
  readonly slot: number;
  readonly place: Place;
  readonly midi: number;
  /** Whether a chromatic approach may be put here: not next to a change, not on a planted slot. */
  readonly ornament: boolean;
}

/** Writes the line of a take, one note for every slot of all its choruses. Throws when a planted fault cannot be. */
export function writeLine(form: Form, take: DemoTake): readonly LineNote[] {
  const wishes = slotWishes(form, take);
  const chance = seededChance(take.seed);
  const keys = Array.from({ length: HIGHEST - LOWEST + 1 }, (_, index) => LOWEST + index);
  let costs = new Map<string, { cost: number; path: Step | null }>();
  costs.set(stateKey(72, 0, false), { cost: 0, path: null });

  wishes.forEach((wish, slot) => {
    const next = new Map<string, { cost: number; path: Step | null }>();
    const noise = new Map(keys.map((midi) => [midi, 1.6 * chance.next()]));
    for (const [state, { cost, path }] of costs) {
      const from = readState(state);
      for (const midi of keys) {
        const step = stepCost(take, wish, from, midi, slot);
        if (step === null) continue;
        const shown = showsAfter(wish, from.shown, midi);
        if (wish.mustShow && !shown) continue;
        const total = cost + step + (noise.get(midi) ?? 0);
        const key = stateKey(midi, Math.sign(midi - from.midi), shown);
        const known = next.get(key);
        if (known === undefined || total < known.cost) {
          next.set(key, { cost: total, path: { midi, before: path } });
        }
      }
    }
    if (next.size === 0) throw new Error(`no line leads to ${JSON.stringify(wish.place)}`);
    costs = next;
  });
  const best = [...costs.values()].reduce((a, b) => (b.cost < a.cost ? b : a));
  const midis: number[] = [];
  for (let step = best.path; step !== null; step = step.before) midis.unshift(step.midi);
  return midis.map((midi, slot) => {
    const wish = wishes[slot];
    if (wish === undefined) throw new Error('one note for each slot');
    const next = wishes[slot + 1];
    const ornament = wish.sinceChange > 1 && next !== undefined && next.sinceChange > 1;
    return { slot, place: wish.place, midi, ornament };
  });
}

interface Step {
  readonly midi: number;
  readonly before: Step | null;
}

function stateKey(midi: number, direction: number, shown: boolean): string {
  return `${midi},${direction},${shown ? 1 : 0}`;
}

function readState(state: string) {
  const [midi = 0, direction = 0, shown = 0] = state.split(',').map(Number);
  return { midi, direction, shown: shown === 1 };
}

function showsAfter(wish: SlotWish, shownBefore: boolean, midi: number): boolean {
  if (wish.hangsOn) return false;
  if (wish.proofMask === 0) return true;
  return (wish.sinceChange > 0 && shownBefore) || hasPc(wish.proofMask, midi % 12);
}

/** The cost of a note after another, or null where the rules forbid it. */
function stepCost(
  take: DemoTake,
  wish: SlotWish,
  from: { readonly midi: number; readonly direction: number; readonly shown: boolean },
  midi: number,
  slot: number,
): number | null {
  if (!wish.allowed(midi)) return null;
  const size = Math.abs(midi - from.midi);
  if (slot > 0) {
    const verdict = judgeInterval(from.midi, midi, wish.palette, take.level, 'flag');
    if (verdict !== wish.interval || size > 9) return null;
  }
  const turns = from.direction !== 0 && Math.sign(midi - from.midi) !== from.direction;
  const strong = wish.place.sub === 0 && wish.chordTones.has(midi % 12) ? -0.8 : 0;
  const unshown = wish.proofMask !== 0 && !showsAfter(wish, from.shown, midi) ? 3 : 0;
  const edge = Math.max(0, Math.abs(midi - 71) - 8) * 0.4;
  return (turns ? 1.1 : 0) + strong + unshown + edge + 0.18 * Math.max(0, size - 4);
}

/** Lays the palettes and the planted faults out over all slots. */
function slotWishes(form: Form, take: DemoTake): readonly SlotWish[] {
  const clock = createBeatClock(form, { kind: 'steady', tempoBpm: take.tempoBpm });
  const grid = createSlotGrid(form, clock, { slotsPerBeat: null, swing: 1, choruses: null });
  const chords: readonly FormChord[] = form.bars.flatMap(({ chords: placed }) => placed);
  const views = chords.map(({ chosen }) => (chosen === null ? null : viewPalette(chosen.palette)));
  const places = Array.from({ length: take.choruses }, (_, chorus) =>
    grid.slots.map(({ barIndex, beat, sub, chord }) => ({
      chord,
      place: { chorus: chorus + 1, bar: form.bars[barIndex]?.bar ?? 0, beat, sub },
    })),
  ).flat();

  let old: PaletteView | null = null;
  let current: PaletteView | null = null;
  let since = 0;
  let late = 0;
  let commonOnly = false;
  return places.map(({ chord, place }, slot): SlotWish => {
    const palette = views[chord] ?? null;
    if (palette === null) throw new Error('demo takes have a chord everywhere');
    if (current === null || palette.mask !== current.mask) {
      old = current;
      since = 0;
      late = plantedAt(take, 'lateChange', place)?.bySlots ?? 0;
      commonOnly = plantedAt(take, 'commonTonesOnly', place) !== undefined;
    } else since++;
    current = palette;
    const following = places[slot + 1];
    const nextPalette = following === undefined ? null : (views[following.chord] ?? null);
    const lastOfStretch = nextPalette === null || nextPalette.mask !== palette.mask;
    const proofMask = old === null || commonOnly ? 0 : palette.mask & ~old.mask;
    const hangsOn = old !== null && since < late;
    const chordSymbol = chords[chord]?.symbol ?? null;
    return {
      place,
      palette: hangsOn && old !== null ? old : palette,
      chordTones: new Set(chordSymbol === null ? [] : chordPcs(chordSymbol)),
      proofMask,
      hangsOn,
      sinceChange: since,
      allowed: allowedAt(
        take,
        place,
        palette,
        old,
        hangsOn && since === late - 1,
        hangsOn,
        commonOnly,
      ),
      interval: plantedAt(take, 'third', place) === undefined ? 'open' : 'third',
      mustShow: lastOfStretch && !commonOnly && proofMask !== 0 && take.level !== 'free',
    };
  });
}

function allowedAt(
  take: DemoTake,
  place: Place,
  palette: PaletteView,
  old: PaletteView | null,
  lastLate: boolean,
  hangsOn: boolean,
  commonOnly: boolean,
): (midi: number) => boolean {
  if (plantedAt(take, 'outside', place)) return (midi) => !hasPc(palette.mask, midi % 12);
  if (old !== null && lastLate) return (midi) => hasPc(old.mask & ~palette.mask, midi % 12);
  if (old !== null && hangsOn) return (midi) => hasPc(old.mask, midi % 12);
  if (old !== null && commonOnly) return (midi) => hasPc(old.mask & palette.mask, midi % 12);
  return (midi) => hasPc(palette.certainMask, midi % 12);
}
