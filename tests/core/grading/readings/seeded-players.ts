/**
 * Invented players, each from a seed: a line over a chart, played by a human hand with typical faults, and with a misreading
 * planted or none. What is planted is stated here and not told by the code under test. Every number is made up.
 */

import { type Form, formatMeter } from '../../../../src/core/chart/index.ts';
import {
  type Graded,
  type GradeSettings,
  gradeTake,
  type Reading,
  viewPalette,
} from '../../../../src/core/grading/index.ts';
import { createBeatClock, createSlotGrid, type SlotGrid } from '../../../../src/core/grid/index.ts';
import { writeLine } from '../../../../src/core/line/index.ts';
import { inOrderOfTime } from '../../../../src/core/take/in-order.ts';
import type { TakeEvent, TakeEvents } from '../../../../src/core/take/model.ts';
import { plainTake } from '../../../../src/core/take/sources.ts';
import { tonePc } from '../../../../src/core/theory/index.ts';
import type { Level, ReadingKind } from '../../../../src/core/words.ts';
import { between, type Chance, chanceOf, normal } from '../../progress/chance.ts';
import { inventedForm, starterForms } from './invented-charts.ts';

export interface Player {
  readonly form: Form;
  readonly take: TakeEvents;
  readonly settings: GradeSettings;
  /** Null where no misreading was planted. */
  readonly planted: Planted | null;
}

export interface Planted {
  isFound(reading: Reading): boolean;
  /** The same hand, read rightly. */
  readonly right: Graded;
  /** The first slot in which anything could be played. */
  readonly countedFrom: number;
}

const STARTERS = starterForms();
/** Long enough for a misreading to show: two choruses of the shorter charts. */
const LEAST_SLOTS = 192;
const LEVELS_PLAYED = ['steps', 'thirds', 'leaps'] as const;
const REGISTER = { lowestMidi: 60, highestMidi: 84 };

/** How often each fault happens, as shares of slots; late changes of changes. */
interface Habits {
  readonly gap: number;
  readonly outside: number;
  readonly leap: number;
  readonly double: number;
  readonly hesitation: number;
  readonly lateChange: number;
  readonly spreadMs: number;
  readonly lagMs: number;
}

function habitsOf(chance: Chance, poverty: number): Habits {
  return {
    gap: between(chance, 0, 0.03) * poverty,
    outside: between(chance, 0, 0.05) * poverty,
    leap: between(chance, 0, 0.03) * poverty,
    double: between(chance, 0, 0.02) * poverty,
    hesitation: between(chance, 0, 0.03) * poverty,
    lateChange: between(chance, 0, 0.3) * poverty,
    spreadMs: between(chance, 6, 16),
    lagMs: between(chance, -10, 10),
  };
}

interface Played {
  /** On the grid; negative ones lie in the count-in. */
  readonly slot: number;
  readonly midi: number;
  readonly offMs: number;
  readonly velocity: number;
}

/** The player of a seed, with a misreading of a kind or without any. */
export function seededPlayer(seed: number, kind: ReadingKind | null): Player {
  const chance = chanceOf(seed * 7919 + 13);
  for (;;) {
    const player = tryPlayer(chance, kind);
    if (player !== null) return player;
  }
}

/** Null where this chart cannot carry it: no clean line there, or no two slots to a beat for a swing. */
function tryPlayer(chance: Chance, kind: ReadingKind | null): Player | null {
  const form = chance() < 0.5 ? pick(chance, STARTERS) : inventedForm(chance);
  const played = pick(chance, kind === 'level' ? (['thirds', 'leaps'] as const) : LEVELS_PLAYED);
  const graded: Level = kind !== 'level' ? played : played === 'thirds' ? 'steps' : 'thirds';
  const isCompound = form.meter.unit === 8;
  const tempoBpm = Math.round(isCompound ? between(chance, 45, 90) : between(chance, 60, 130));
  const settings: GradeSettings = { level: graded, tempo: { kind: 'steady', tempoBpm } };
  const straight = gridOf(form, settings, 1);
  const choruses = Math.ceil(LEAST_SLOTS / straight.slotsPerChorus);
  const line = writeLine(form, {
    level: played,
    choruses,
    slotsPerBeat: null,
    swing: 1,
    register: REGISTER,
    seed: Math.floor(chance() * 1e6),
    density: played === 'steps' ? between(chance, 0, 0.6) : between(chance, 0.3, 0.8),
    startMidi: null,
    style: 'teaching',
    direction: 0,
  });
  if (!line.ok) return null;
  const habits = habitsOf(chance, kind === null ? between(chance, 0, 2) : between(chance, 0, 1));
  const meant = line.value.notes.map(({ slot, midi }) => ({ slot, midi }));
  const notes = withFaults(chance, form, straight, meant, habits);
  const end = chance() < 0.5 ? choruses : null;
  const base: Misread = { form, settings: { ...settings, choruses: end }, notes, habits, tempoBpm };
  return kind === null ? plain(chance, base) : MISREADINGS[kind](chance, base);
}

/** Faults and changes not on time, from a slot on. */
function missesOf({ form, take, settings }: Graded, fromSlot: number): number {
  const { slots, changes } = gradeTake(form, take, settings);
  const late = changes.filter(({ arrival }) => arrival === 'late' || arrival === 'unproven');
  const faults = slots.map(({ index, faults: here }) => (index < fromSlot ? 0 : here.length));
  return (
    faults.reduce((sum, count) => sum + count, 0) +
    late.filter(({ slot }) => slot >= fromSlot).length
  );
}

/**
 * Whether most of what is wrong comes of the misreading: read rightly, at least eight faults and at least half of them go. Who has
 * as many faults of other kinds is beyond the rule.
 */
export function isMostlyMisread(player: Player): boolean {
  if (player.planted === null) return false;
  const { right, countedFrom } = player.planted;
  const before = missesOf(player, countedFrom);
  const goes = before - missesOf(right, 0);
  return goes >= 8 && goes >= before / 2;
}

interface Misread {
  readonly form: Form;
  readonly settings: GradeSettings;
  /** The line as it would be played rightly. */
  readonly notes: readonly Played[];
  readonly habits: Habits;
  readonly tempoBpm: number;
}

function gridOf(form: Form, { tempo }: GradeSettings, swing: number): SlotGrid {
  return createSlotGrid(form, createBeatClock(form, tempo), {
    slotsPerBeat: null,
    swing,
    choruses: null,
  });
}

function withFaults(
  chance: Chance,
  form: Form,
  grid: SlotGrid,
  meant: readonly { readonly slot: number; readonly midi: number }[],
  habits: Habits,
): readonly Played[] {
  const palettes = form.bars
    .flatMap(({ chords }) => chords)
    .map(({ chosen }) => (chosen === null ? null : viewPalette(chosen.palette).mask));
  const chordOf = (slot: number): number => grid.slots[slot % grid.slotsPerChorus]?.chord ?? 0;
  let hangs = 0;
  let oldOnly = 0;
  return meant.flatMap(({ slot, midi }): Played[] => {
    const mask = palettes[chordOf(slot)] ?? 0xfff;
    const before = slot === 0 ? mask : (palettes[chordOf(slot - 1)] ?? mask);
    if (before !== mask) {
      hangs = chance() < habits.lateChange ? 1 + Math.floor(chance() * 3) : 0;
      oldOnly = before & ~mask;
    }
    let key = midi;
    if (hangs > 0) key = nearest(midi, oldOnly);
    else if (chance() < habits.outside) key = nearest(midi, 0xfff & ~mask);
    else if (chance() < habits.leap)
      key = midi + (midi > 72 ? -1 : 1) * (5 + Math.floor(chance() * 5));
    hangs--;
    if (chance() < habits.gap) return [];
    const offMs =
      habits.lagMs +
      habits.spreadMs * normal(chance) +
      (chance() < habits.hesitation ? between(chance, 60, 110) : 0);
    const note = { slot, midi: key, offMs, velocity: 60 + Math.floor(chance() * 30) };
    const isDoubled = chance() < habits.double;
    return isDoubled ? [note, { ...note, midi: key + 1, offMs: offMs + 9, velocity: 35 }] : [note];
  });
}

/** The key nearest to one whose pitch class is in a bit set; the key itself when the set is empty. */
function nearest(midi: number, mask: number): number {
  for (let away = 0; away < 7; away++) {
    for (const key of [midi + away, midi - away]) if ((mask >> (key % 12)) & 1) return key;
  }
  return midi;
}

/** What was played, at the times of a grid. */
function perform(
  { form, settings }: Pick<Misread, 'form' | 'settings'>,
  notes: readonly Played[],
  swing: number,
): TakeEvents {
  const grid = gridOf(form, settings, swing);
  const events = notes.flatMap(({ slot, midi, offMs, velocity }): TakeEvent[] => {
    const atMs = grid.timeMs(slot) + offMs;
    const upMs = atMs + 0.85 * (grid.timeMs(slot + 1) - grid.timeMs(slot));
    return [
      { kind: 'noteOn', atMs, midi, velocity },
      { kind: 'noteOff', atMs: upMs, midi },
    ];
  });
  const sorted = inOrderOfTime(events);
  return plainTake(sorted, (sorted.at(-1)?.atMs ?? 0) + 500);
}

/** The roots at the starts of chords, as a left hand strikes them, one in ten left out. */
function roots(chance: Chance, { form, settings, notes, habits }: Misread): readonly Played[] {
  const grid = gridOf(form, settings, 1);
  const chords = form.bars.flatMap((bar) => bar.chords);
  const lastSlot = notes.at(-1)?.slot ?? 0;
  const lowest = 36 + Math.floor(chance() * 6);
  const struck: Played[] = [];
  for (let slot = 0; slot <= lastSlot; slot++) {
    const inChorus = slot % grid.slotsPerChorus;
    const chord = grid.slots[inChorus]?.chord ?? 0;
    const isStart = inChorus === 0 || grid.slots[inChorus - 1]?.chord !== chord;
    const symbol = chords[chord]?.symbol ?? null;
    if (!isStart || symbol === null || chance() < 0.1) continue;
    const pc = tonePc(symbol.bass ?? symbol.root);
    const midi = lowest + ((pc - lowest + 120) % 12);
    const offMs = habits.lagMs + 10 * normal(chance);
    struck.push({ slot, midi, offMs, velocity: 45 + Math.floor(chance() * 40) });
  }
  return struck;
}

/** A player whom nothing is wrong with but faults: straight or a little lilting, a third with a left hand and its split set. */
function plain(chance: Chance, base: Misread): Player {
  const lilt = between(chance, 1, 1.15);
  const hasLeftHand = chance() < 0.33;
  const notes = hasLeftHand ? [...base.notes, ...roots(chance, base)] : base.notes;
  const settings = hasLeftHand ? { ...base.settings, splitMidi: 55 } : base.settings;
  return { form: base.form, take: perform(base, notes, lilt), settings, planted: null };
}

type Misreading = (chance: Chance, base: Misread) => Player | null;

const MISREADINGS: Readonly<Record<ReadingKind, Misreading>> = {
  timing(chance, base) {
    const grid = gridOf(base.form, base.settings, 1);
    const slotMs = grid.timeMs(1) - grid.timeMs(0);
    const toleranceMs = Math.max(40, 0.15 * slotMs);
    const which = chance();
    const swings = which < 0.67;
    if (swings && base.form.bars.some(({ meter }) => meter.unit === 8)) return null;
    const isStraightened = which < 0.15;
    const played = isStraightened ? 1 : swings ? between(chance, 1.7, 2.6) : 1;
    const set = isStraightened ? between(chance, 1.8, 2.4) : 1;
    const isOff = which > 0.4;
    const mostMs = Math.min(toleranceMs + 70, 0.42 * slotMs);
    const offMs = isOff ? between(chance, toleranceMs + 20, mostMs) : 0;
    const offsetMs = chance() < 0.75 ? offMs : -offMs;
    const displacedMs = (played / (1 + played) - set / (1 + set)) * 2 * slotMs;
    if (swings && Math.abs(displacedMs) < toleranceMs + 15) return null;
    // Further off, most of the notes would fall to the slot after or before.
    if (Math.abs(displacedMs + offsetMs) > 0.45 * slotMs) return null;
    const notes = base.notes.map((note) => ({ ...note, offMs: note.offMs + offsetMs }));
    const latencyMs = isOff ? offsetMs + base.habits.lagMs : 0;
    return {
      form: base.form,
      take: perform(base, notes, played),
      settings: { ...base.settings, swing: set },
      planted: {
        isFound: ({ kind, value }) =>
          kind === 'timing' &&
          Math.abs(value.swing - played) < 0.2 &&
          Math.abs(value.latencyMs - latencyMs) < 15,
        right: {
          form: base.form,
          take: perform(base, base.notes, played),
          settings: { ...base.settings, swing: played },
        },
        countedFrom: 0,
      },
    };
  },
  split(chance, base) {
    const { form, settings } = base;
    if (chance() < 0.25) {
      // A split in the middle of the line.
      const take = perform(base, base.notes, 1);
      const keys = base.notes.map(({ midi }) => midi).sort((a, b) => a - b);
      const splitMidi = keys[Math.floor(keys.length * between(chance, 0.2, 0.6))] ?? 60;
      const isFound = ({ kind, value }: Reading) => kind === 'split' && value === null;
      const planted = { isFound, right: { form, take, settings }, countedFrom: 0 };
      return { form, take, settings: { ...settings, splitMidi }, planted };
    }
    const left = roots(chance, base);
    if (left.length < 12) return null;
    const highest = Math.max(...left.map(({ midi }) => midi));
    const lowest = Math.min(...base.notes.map(({ midi }) => midi));
    return {
      form,
      take: perform(base, [...base.notes, ...left], 1),
      settings,
      planted: {
        isFound: ({ kind, value }) =>
          kind === 'split' && value !== null && value > highest && value <= lowest,
        right: { form, take: perform(base, base.notes, 1), settings },
        countedFrom: 0,
      },
    };
  },
  start(chance, base) {
    const { form, settings } = base;
    const grid = gridOf(form, settings, 1);
    const barSlots = grid.slots.findIndex(({ barIndex }) => barIndex === 1);
    const inBars = chance() < 0.6;
    const size = inBars ? barSlots * (1 + Math.floor(chance() * 3)) : 1 + Math.floor(chance() * 8);
    const value = chance() < 0.6 ? size : -size;
    // Half of those who are ahead began in the count-in, the others leave the beginning out.
    const leavesOut = chance() < 0.5;
    const notes = base.notes
      .map((note) => ({ ...note, slot: note.slot + value }))
      .filter(({ slot }) => slot >= 0 || !leavesOut);
    return {
      form,
      take: perform(base, notes, 1),
      settings,
      planted: {
        isFound: (reading) => reading.kind === 'start' && reading.value === value,
        right: { form, take: perform(base, base.notes, 1), settings },
        countedFrom: Math.max(0, value),
      },
    };
  },
  key(chance, base) {
    const { form, settings } = base;
    const value = Math.floor(between(chance, -5, 6));
    const semitones = value >= 0 ? value + 1 : value;
    const notes = base.notes.map((note) => ({ ...note, midi: note.midi + semitones }));
    return {
      form,
      take: perform(base, notes, 1),
      settings,
      planted: {
        isFound: (reading) => reading.kind === 'key' && reading.value === semitones,
        right: { form, take: perform(base, base.notes, 1), settings },
        countedFrom: 0,
      },
    };
  },
  slip(chance, base) {
    const { form, settings } = base;
    const size = 1 + Math.floor(chance() * 2);
    const value = chance() < 0.5 ? size : -size;
    const last = base.notes.at(-1)?.slot ?? 0;
    const from = Math.floor(between(chance, last * 0.2, last * 0.5));
    const notes = base.notes.flatMap((note): Played[] => {
      if (note.slot < from) return [note];
      // Ahead: so many slots of the line are left out.
      if (value < 0 && note.slot < from - value) return [];
      return [{ ...note, slot: note.slot + value }];
    });
    return {
      form,
      take: perform(base, notes, 1),
      settings,
      planted: {
        // A late or early start comes first where nothing before the slip tells the two apart.
        isFound: ({ kind, value: told }) => (kind === 'slip' || kind === 'start') && told === value,
        right: { form, take: perform(base, base.notes, 1), settings },
        countedFrom: 0,
      },
    };
  },
  level(_chance, base) {
    const { form, settings } = base;
    const wider = settings.level === 'steps' ? 'thirds' : 'leaps';
    return {
      form,
      take: perform(base, base.notes, 1),
      settings,
      planted: {
        isFound: (reading) => reading.kind === 'level' && reading.value === wider,
        right: {
          form,
          take: perform(base, base.notes, 1),
          settings: { ...settings, level: wider },
        },
        countedFrom: 0,
      },
    };
  },
};

function pick<Value>(chance: Chance, values: readonly Value[]): Value {
  const value = values[Math.floor(chance() * values.length)];
  if (value === undefined) throw new Error('nothing to pick from');
  return value;
}

/** What a player is about, for whoever looks at a failure. */
export function describePlayer({ form, settings }: Player): string {
  return `${form.title} ${formatMeter(form.meter)} ${JSON.stringify(settings)}`;
}
