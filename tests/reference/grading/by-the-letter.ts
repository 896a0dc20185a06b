/**
 * A second grader, written down from `grading.md` sentence by sentence: over the whole take at once, without regard to speed,
 * and with nothing of the grader's own reading of slots, palettes and changes. Where the text leaves something open, a comment
 * says so and the grader's reading is taken. Steady tempos only.
 */

import {
  beatsPerBar,
  type Form,
  formatMeter,
  quartersPerBeat,
} from '../../../src/core/chart/index.ts';
import type { GradeSettings, Report } from '../../../src/core/grading/index.ts';
import type { TakeEvents, TakeSource } from '../../../src/core/take/model.ts';
import {
  chordPcs,
  makeSpeller,
  type Palette,
  paletteName,
} from '../../../src/core/theory/index.ts';
import { tonePc } from '../../../src/core/theory/tone.ts';
import { readChanges } from './changes.ts';
import { isChange, judge, type Line } from './judge.ts';
import { type FilledSlot, fillSlots, type Key, keysOf, type Strike, strikesOf } from './onsets.ts';
import { chordAt, type Entry, type Performance, perform, slotsOf, usualSlots } from './places.ts';
import { summarise } from './summary.ts';
import { isAtLeast } from './times.ts';

const SPARE_CHORUSES = 2;

type Filled = Required<Omit<GradeSettings, 'latencyMs' | 'splitMidi'>>;

/** The defaults: approaches "off at `steps`, on above"; a repeat "a fault at `steps` and `thirds`"; line-up "on by default at
 * `steps`"; anticipation "off by default; on at `free`". */
function fillIn(settings: GradeSettings): Filled {
  const { level } = settings;
  return {
    ...{ choruses: null, slotsPerBeat: null, swing: 1, toleranceMs: null },
    ...{ approach: level === 'steps' ? 'flag' : 'allow', leftHand: false },
    repeats: level === 'steps' || level === 'thirds' ? 'flag' : 'allow',
    lineUp: level === 'steps' ? 'allow' : 'flag',
    anticipation: level === 'free' ? 'allow' : 'flag',
    ...settings,
  };
}

/** "Takes recorded before sources were kept have one. A latency or a split given as a setting holds for all sources." */
function sourcesOf(
  take: TakeEvents,
  { latencyMs, splitMidi }: GradeSettings,
): readonly TakeSource[] {
  const none = { name: '', latencyMs: 0, splitMidi: null };
  return (take.sources.length === 0 ? [none] : take.sources).map((source) => ({
    ...source,
    ...(latencyMs === undefined ? {} : { latencyMs }),
    ...(splitMidi === undefined ? {} : { splitMidi }),
  }));
}

export function gradeByTheLetter(form: Form, take: TakeEvents, given: GradeSettings): Report {
  const settings = fillIn(given);
  const sources = sourcesOf(take, given);
  const beatsInForm = form.bars.reduce((beats, { meter }) => beats + beatsPerBar(meter), 0);
  const keys = keysOf(take, sources);
  const isLine = ({ midi, source }: Key): boolean => midi >= (sources[source]?.splitMidi ?? 0);
  const strikes = strikesOf(keys.filter(isLine));

  const lastMs = Math.max(0, ...keys.map(({ onsetMs }) => onsetMs));
  const oneBeatMs = perform(form, settings, 1).timeMs(1);
  const reached = Math.ceil(lastMs / oneBeatMs / beatsInForm) + SPARE_CHORUSES;
  const played = perform(form, settings, Math.max(reached, (settings.choruses ?? 0) + 1));
  const plannedBeats =
    settings.choruses === null ? Number.POSITIVE_INFINITY : settings.choruses * beatsInForm;

  const isFree = settings.level === 'free';
  const { entries, filled, closing, cells } = isFree
    ? freeEntries(form, played, strikes, plannedBeats)
    : slotEntries(played, strikes, settings, plannedBeats);
  // "Grading starts at slot 0 and ends with the last filled slot."
  const last = filled.findLastIndex(({ note }) => note !== null);
  // "A slot whose cell (a closed interval) touches a break is `unjudged`."
  const isBroken = (fromMs: number, toMs: number): boolean =>
    take.breaks.some((pause) => isAtLeast(pause.toMs, fromMs) && isAtLeast(toMs, pause.fromMs));
  const judged = cells.slice(0, last + 1).map(({ fromMs, toMs }) => !isBroken(fromMs, toMs));
  const line = lineOf(
    played,
    settings,
    entries.slice(0, last + 1),
    // "No interval into or out of it": for all others it is as if nothing had been played there.
    filled
      .slice(0, last + 1)
      .map((slot, index) => (judged[index] ? slot : { ...slot, note: null })),
  );
  const verdicts = judge(line, settings);

  /** "A chromatic approach by the note it leads to: F#4 below G4, Ab4 above it." */
  const approachAt = (index: number): string => {
    const at = (of: number) => {
      const midi = filled[of]?.note?.midi ?? 0;
      const chord = played.chords[line.entries[of]?.chord ?? -1]?.chord;
      const palette = chord?.chosen?.palette ?? null;
      const isOutside = palette !== null && !hasPitch(palette, midi);
      const name = makeSpeller({ palette, symbol: chord?.symbol ?? null, key: form.key })(midi);
      return { midi, name, isOutside };
    };
    const [note, next, after] = [at(index), at(index + 1), at(index + 2)];
    if (!note.isOutside) return note.name;
    const isFirstOfTwo = next.isOutside && after.midi - next.midi === next.midi - note.midi;
    const target = isFirstOfTwo ? neighbourOf(next.midi, after.midi, after.name) : next.name;
    return neighbourOf(note.midi, next.midi, target);
  };

  const slots = line.entries.map((entry, index): Report['slots'][number] => {
    const chord = played.chords[entry.chord]?.chord;
    const palette = chord?.chosen?.palette ?? null;
    const note = filled[index]?.note ?? null;
    const isJudged = judged[index] ?? false;
    const { faults, marks } = (isJudged ? verdicts[index] : undefined) ?? { faults: [], marks: [] };
    const hasExtra = isJudged && (filled[index]?.extras.length ?? 0) > 0;
    const { chorus, bar, beat, sub, nominalMs } = entry;
    const spell = makeSpeller({ palette, symbol: chord?.symbol ?? null, key: form.key });
    return {
      ...{ index, chorus, bar, beat, sub, nominalMs, marks },
      chord: chord?.symbol?.text ?? 'N.C.',
      palette: palette === null ? 'none' : paletteName(palette),
      note: note && {
        midi: note.midi,
        name: marks.includes('approach') ? approachAt(index) : spell(note.midi),
        onsetMs: note.onsetMs,
        deviationMs: note.onsetMs - nominalMs,
        velocity: note.velocity,
        durationMs: note.durationMs,
      },
      judged: isJudged,
      faults: hasExtra ? [...faults, 'extra'] : faults,
    };
  });
  const changes = readChanges(line, judged).map((change): Report['changes'][number] => {
    const { chord, slot, arrival, bySlots, earlyBy, provenAt } = change;
    const [from, to] = [played.chords[chord - 1], played.chords[chord]];
    const nameOf = (of: typeof from): string => {
      const palette = of?.chord.chosen?.palette;
      return palette ? paletteName(palette) : 'none';
    };
    return {
      chorus: to?.chorus ?? 0,
      bar: to?.bar ?? 0,
      beat: to?.chord.beat ?? 0,
      fromChord: from?.chord.symbol?.text ?? 'N.C.',
      toChord: to?.chord.symbol?.text ?? 'N.C.',
      fromPalette: nameOf(from),
      toPalette: nameOf(to),
      ...{ slot, arrival, bySlots, earlyBy, provenAt },
    };
  });
  const slotsPerBeat = settings.slotsPerBeat ?? usualSlots(form.meter);
  const plannedSlots =
    settings.choruses === null
      ? null
      : slotsOf(perform(form, settings, settings.choruses), settings).length;
  const slotsPerChorus = slotsOf(perform(form, settings, 1), settings).length;
  const graded = slots.length;
  // Without a planned end: up to the end of the chorus begun, which the text leaves open.
  const owed = plannedSlots ?? Math.ceil(graded / slotsPerChorus) * slotsPerChorus;
  // "Those of the source of most notes of the line": the first of several with as many.
  const lineNotes = sources.map(
    (_, source) => filled.slice(0, last + 1).filter(({ note }) => note?.source === source).length,
  );
  const main = sources[lineNotes.indexOf(Math.max(...lineNotes))];
  return {
    schema: 'linekeeper.report/1',
    chart: form.title,
    plan: form.plan,
    level: settings.level,
    tempo: settings.tempo.kind === 'steady' ? settings.tempo.tempoBpm : Number.NaN,
    meter: formatMeter(form.meter),
    slotsPerBeat,
    swing: settings.swing,
    latencyMs: main?.latencyMs ?? 0,
    splitMidi: main?.splitMidi ?? null,
    sources,
    breaks: take.breaks.toSorted((a, b) => a.fromMs - b.fromMs || a.toMs - b.toMs),
    closing: closing && closingOf(form, closing),
    readings: [],
    slots,
    extras: filled
      .slice(0, last + 1)
      .flatMap(({ extras }, slot) =>
        extras.map(({ key: { midi, onsetMs }, reason }) => ({ midi, onsetMs, slot, reason })),
      )
      .toSorted((a, b) => a.onsetMs - b.onsetMs),
    changes,
    leftHand:
      settings.leftHand && sources.some(({ splitMidi }) => splitMidi !== null) && last >= 0
        ? judgeLeftHand(
            played,
            keys.filter((key) => !isLine(key)),
            entries[last]?.atBeat ?? 0,
            isBroken,
          )
        : [],
    ...summarise(form, played, line, slots, changes, {
      slotsPerBeat,
      isFree,
      unplayed: isFree ? 0 : owed - graded,
      chordPcsAt: (index) => {
        const symbol = played.chords[line.entries[index]?.chord ?? -1]?.chord.symbol ?? null;
        return symbol === null ? null : chordPcs(symbol);
      },
    }),
  };
}

interface Cell {
  readonly fromMs: number;
  readonly toMs: number;
}

interface Closing {
  readonly note: Key;
  readonly nominalMs: number;
}

function hasPitch({ pcs, falling }: Palette, midi: number): boolean {
  return [...pcs, ...(falling?.pcs ?? [])].includes(midi % 12);
}

/** The name a letter away from another note's, by whatever accidental; a white key by its own letter. */
function neighbourOf(midi: number, target: number, targetName: string): string {
  const white = ['C', '', 'D', '', 'E', 'F', '', 'G', '', 'A', '', 'B'];
  const natural = white[midi % 12];
  if (natural !== undefined && natural !== '') return natural + (Math.floor(midi / 12) - 1);
  const letters = 'CDEFGAB';
  const at = letters.indexOf(targetName.charAt(0)) + (midi < target ? 6 : 1);
  const letter = letters.charAt(at % 7);
  const sign = (white.indexOf(letter) + 1) % 12 === midi % 12 ? '#' : 'b';
  return letter + sign + (Math.floor(midi / 12) - 1);
}

interface Laid {
  readonly entries: readonly Entry[];
  readonly filled: readonly FilledSlot[];
  readonly cells: readonly Cell[];
  readonly closing: Closing | null;
}

/** "Reported as `closing` with the chord that comes next", "and whether it is a tone of that chord." */
function closingOf(form: Form, { note, nominalMs }: Closing): Report['closing'] {
  const chord = form.next ?? form.bars[0]?.chords[0];
  const symbol = chord?.symbol ?? null;
  const palette = chord?.chosen?.palette ?? null;
  return {
    midi: note.midi,
    name: makeSpeller({ palette, symbol, key: form.key })(note.midi),
    onsetMs: note.onsetMs,
    deviationMs: note.onsetMs - nominalMs,
    chord: symbol?.text ?? 'N.C.',
    chordTone: symbol !== null && chordPcs(symbol).includes(note.midi % 12),
  };
}

function nearest(strikes: readonly Strike[], nominalMs: number): Strike | undefined {
  const offMs = ({ note }: Strike): number => Math.abs(note.onsetMs - nominalMs);
  return strikes.toSorted((a, b) => offMs(a) - offMs(b) || a.note.onsetMs - b.note.onsetMs)[0];
}

function slotEntries(
  played: Performance,
  strikes: readonly Strike[],
  settings: Filled,
  plannedBeats: number,
): Laid {
  const all = slotsOf(played, settings);
  const planned = all.filter(({ atBeat }) => atBeat < plannedBeats);
  const slotsPerChorus = all.filter(({ chorus }) => chorus === 1).length;
  const chorusMs = played.timeMs(played.beatsPerChorus);
  const before = { nominalMs: (all[slotsPerChorus - 1]?.nominalMs ?? 0) - chorusMs };
  const after = all[planned.length] ?? { nominalMs: played.timeMs(played.beats.length) };
  const filled = [...fillSlots([before, ...planned, after], strikes)];
  const timeMs = (slot: number): number => (slot < 0 ? before : (all[slot] ?? after)).nominalMs;
  const cellOf = (slot: number): Cell => ({
    fromMs: (timeMs(slot - 1) + timeMs(slot)) / 2,
    toMs: (timeMs(slot) + timeMs(slot + 1)) / 2,
  });
  const laid = { entries: planned, cells: planned.map((_, slot) => cellOf(slot)) };
  if (settings.choruses !== null) {
    // "The strike in the cell of the first slot after it is the closing note, unless the last slot is empty
    // and repair (3, above) gives it the strike." Of several the earliest is repaired with, and of the rest the nearest closes: left open.
    const { fromMs, toMs } = cellOf(planned.length);
    const inCell = strikes.filter(({ note }) => note.onsetMs >= fromMs && note.onsetMs < toMs);
    const [earliest] = inCell;
    const [lastMs, endMs] = [timeMs(planned.length - 1), timeMs(planned.length)];
    const isRepair =
      earliest !== undefined &&
      earliest.note.onsetMs < endMs &&
      earliest.note.onsetMs - lastMs < 0.75 * (endMs - lastMs) &&
      filled.at(-1)?.note === null;
    if (isRepair) {
      const extras = earliest.extras.map((key) => ({ key, reason: 'double' as const }));
      filled[filled.length - 1] = { note: earliest.note, extras };
    }
    const closing = nearest(isRepair ? inCell.slice(1) : inCell, endMs);
    return { ...laid, filled, closing: closing ? { note: closing.note, nominalMs: endMs } : null };
  }
  // "In a take without one, a lone strike in the first slot after a whole chorus, with nothing after it, is."
  const last = filled.findLastIndex(({ note }) => note !== null);
  const { note = null, extras = [] } = filled[last] ?? {};
  const isLone = extras.every(({ reason }) => reason === 'double');
  if (note === null || last === 0 || last % slotsPerChorus !== 0 || !isLone) {
    return { ...laid, filled, closing: null };
  }
  filled[last] = { note: null, extras: [] };
  return { ...laid, filled, closing: { note, nominalMs: timeMs(last) } };
}

/** "A note belongs to the chord in force at the nearest twelfth of a beat." */
function freeEntries(
  form: Form,
  played: Performance,
  strikes: readonly Strike[],
  plannedBeats: number,
): Laid {
  const entries: Entry[] = [];
  const filled: FilledSlot[] = [];
  const cells: Cell[] = [];
  const oneBeatMs = played.timeMs(1);
  const closing = freeClosing(form, played, strikes, plannedBeats);
  for (const strike of strikes) {
    if (strike === closing?.strike) break;
    const { note, extras } = strike;
    const twelfth = Math.round((note.onsetMs / oneBeatMs) * 12);
    const beat = played.beats[Math.floor(twelfth / 12)];
    if (twelfth < 0 || twelfth >= plannedBeats * 12 || beat === undefined) continue;
    const { chorus, bar } = beat;
    const chord = chordAt(played, twelfth / 12);
    entries.push({
      ...{ chorus, bar, beat: beat.beat, chord, toleranceMs: null },
      sub: twelfth % 12,
      atBeat: twelfth / 12,
      nominalMs: played.timeMs(twelfth / 12),
    });
    filled.push({ note, extras: extras.map((key) => ({ key, reason: 'double' })) });
    // A note's cell is its twelfth: left open.
    cells.push({
      fromMs: played.timeMs((twelfth - 0.5) / 12),
      toMs: played.timeMs((twelfth + 0.5) / 12),
    });
  }
  return {
    ...{ entries, filled, cells },
    closing: closing && { note: closing.strike.note, nominalMs: closing.nominalMs },
  };
}

/** "At `free` the cell begins half an eighth before the end": and ends half an eighth after it, as a slot's would. */
function freeClosing(
  form: Form,
  played: Performance,
  strikes: readonly Strike[],
  plannedBeats: number,
): { readonly strike: Strike; readonly nominalMs: number } | null {
  const eighth = (meter: Form['meter'] | undefined): number =>
    0.5 / quartersPerBeat(meter ?? form.meter);
  const inCell = (endBeat: number): readonly Strike[] => {
    // "Or in the middle of a last chord shorter than an eighth."
    const lastChord = form.bars.at(-1)?.chords.at(-1)?.beats ?? 1;
    const fromMs = played.timeMs(
      endBeat - Math.min(eighth(form.bars.at(-1)?.meter), lastChord) / 2,
    );
    const toMs = played.timeMs(endBeat + eighth(form.bars[0]?.meter) / 2);
    return strikes.filter(({ note: { onsetMs } }) => onsetMs >= fromMs && onsetMs < toMs);
  };
  if (Number.isFinite(plannedBeats)) {
    const nominalMs = played.timeMs(plannedBeats);
    const strike = nearest(inCell(plannedBeats), nominalMs);
    return strike === undefined ? null : { strike, nominalMs };
  }
  for (let end = played.beatsPerChorus; end <= played.beats.length; end += played.beatsPerChorus) {
    const [strike, ...more] = inCell(end);
    if (strike !== undefined && more.length === 0 && strike === strikes.at(-1)) {
      return { strike, nominalMs: played.timeMs(end) };
    }
  }
  return null;
}

/** Counts out where the changes lie among the entries. "At `free`, notes are counted in place of slots." */
function lineOf(
  played: Performance,
  settings: GradeSettings,
  entries: readonly Entry[],
  filled: readonly FilledSlot[],
): Line {
  const changesBetween = (from: number, to: number): boolean =>
    played.chords.some((_, chord) => chord > from && chord <= to && isChange(played, chord));
  const sinceChange: (number | null)[] = [];
  entries.forEach(({ chord }, index) => {
    const before = sinceChange.at(-1) ?? null;
    const isFirst = changesBetween(entries[index - 1]?.chord ?? 0, chord);
    sinceChange.push(isFirst ? 0 : before === null ? null : before + 1);
  });
  const slotBeats = 1 / (played.beats[0]?.slots ?? 1);
  const beforeChange = entries.map(({ chord, atBeat, beat, sub }) => {
    // At `free` a note has no slot: it stands before a change when one lies within a slot's length after it. Left open.
    const { slots = 1 } = played.beats[Math.floor(atBeat)] ?? {};
    const next =
      settings.level === 'free' ? atBeat + slotBeats : Math.floor(atBeat) + (sub + 1) / slots;
    const isOver = Math.floor(next + 1e-9) >= played.beats.length;
    return beat > 0 && !isOver && changesBetween(chord, chordAt(played, next));
  });
  return { played, entries, notes: filled.map(({ note }) => note), sinceChange, beforeChange };
}

/** "At each chord's start the left hand owes its bass note." Keys struck together give the lowest: left open by the text. */
function judgeLeftHand(
  played: Performance,
  keys: readonly Key[],
  endBeat: number,
  isBroken: (fromMs: number, toMs: number) => boolean,
): Report['leftHand'] {
  const groups: Key[][] = [];
  for (const key of keys) {
    const first = groups.at(-1)?.[0];
    if (first !== undefined && key.onsetMs - first.onsetMs <= 30) groups.at(-1)?.push(key);
    else groups.push([key]);
  }
  const basses = groups.flatMap((group) => group.toSorted((a, b) => a.midi - b.midi).slice(0, 1));
  return played.chords
    .filter(({ atBeat }) => atBeat <= endBeat)
    .flatMap(({ chord, chorus, bar, atBeat }): Report['leftHand'] => {
      if (chord.symbol === null) return [];
      const expectedPc = tonePc(chord.symbol.bass ?? chord.symbol.root);
      const startMs = played.timeMs(atBeat);
      const reachMs = played.timeMs(0.25);
      // Of a bass that may have fallen into a break nothing is said: left open.
      if (isBroken(startMs - reachMs, startMs + reachMs)) return [];
      const [bass] = basses
        .filter(({ onsetMs }) => isAtLeast(reachMs, Math.abs(onsetMs - startMs)))
        .toSorted((a, b) => Math.abs(a.onsetMs - startMs) - Math.abs(b.onsetMs - startMs));
      return [
        {
          ...{ chorus, bar, beat: chord.beat, expectedPc },
          midi: bass?.midi ?? null,
          deviationMs: bass === undefined ? null : bass.onsetMs - startMs,
          verdict:
            bass === undefined ? 'missing' : bass.midi % 12 === expectedPc ? 'root' : 'other',
        },
      ];
    });
}
