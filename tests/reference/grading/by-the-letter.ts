/**
 * A second grader, written down from `grading.md` sentence by sentence: over the whole take at once, without regard to speed,
 * and with nothing of the grader's own reading of slots, palettes and changes. Where the text leaves something open, a comment
 * says so and the grader's reading is taken. Steady tempos only.
 */

import { beatsPerBar, type Form, formatMeter, isCompound } from '../../../src/core/chart/index.ts';
import type { GradeSettings, Report } from '../../../src/core/grading/index.ts';
import type { TakeEvents } from '../../../src/core/take/model.ts';
import { chordPcs, makeSpeller, paletteName } from '../../../src/core/theory/index.ts';
import { tonePc } from '../../../src/core/theory/tone.ts';
import { readChanges } from './changes.ts';
import { isChange, judge, type Line } from './judge.ts';
import { type FilledSlot, fillSlots, type Key, keysOf, type Strike, strikesOf } from './onsets.ts';
import { type Entry, type Performance, perform, slotsOf } from './places.ts';
import { summarise } from './summary.ts';
import { isAtLeast } from './times.ts';

const SPARE_CHORUSES = 2;

/** The defaults: approaches "off at `steps`, on above"; a repeat "a fault at `steps` and `thirds`"; line-up "on by default at
 * `steps`"; anticipation "off by default; on at `free`". */
function fillIn(settings: GradeSettings): Required<GradeSettings> {
  const { level } = settings;
  return {
    ...{
      choruses: null,
      slotsPerBeat: null,
      swing: 1,
      latencyMs: 0,
      splitMidi: null,
      toleranceMs: null,
    },
    ...{ approach: level === 'steps' ? 'flag' : 'allow', leftHand: false },
    repeats: level === 'steps' || level === 'thirds' ? 'flag' : 'allow',
    lineUp: level === 'steps' ? 'allow' : 'flag',
    anticipation: level === 'free' ? 'allow' : 'flag',
    ...settings,
  };
}

export function gradeByTheLetter(form: Form, take: TakeEvents, given: GradeSettings): Report {
  const settings = fillIn(given);
  const beatsInForm = form.bars.reduce((beats, { meter }) => beats + beatsPerBar(meter), 0);
  const keys = keysOf(take, settings.latencyMs);
  const isLine = ({ midi }: Key): boolean =>
    settings.splitMidi === null || midi >= settings.splitMidi;
  const strikes = strikesOf(keys.filter(isLine));

  const lastMs = Math.max(0, ...keys.map(({ onsetMs }) => onsetMs));
  const oneBeatMs = perform(form, settings, 1).timeMs(1);
  const reached = Math.ceil(lastMs / oneBeatMs / beatsInForm) + SPARE_CHORUSES;
  const played = perform(form, settings, Math.max(reached, settings.choruses ?? 0));
  const plannedBeats =
    settings.choruses === null ? Number.POSITIVE_INFINITY : settings.choruses * beatsInForm;

  const isFree = settings.level === 'free';
  const { entries, filled } = isFree
    ? freeEntries(played, strikes, plannedBeats)
    : slotEntries(played, strikes, settings, plannedBeats);
  // "Grading starts at slot 0 and ends with the last filled slot."
  const last = filled.findLastIndex(({ note }) => note !== null);
  const line = lineOf(played, settings, entries.slice(0, last + 1), filled.slice(0, last + 1));
  const verdicts = judge(line, settings);

  const slots = line.entries.map((entry, index): Report['slots'][number] => {
    const chord = played.chords[entry.chord]?.chord;
    const palette = chord?.chosen?.palette ?? null;
    const note = line.notes[index] ?? null;
    const { faults = [], marks = [] } = verdicts[index] ?? {};
    const hasExtra = (filled[index]?.extras.length ?? 0) > 0;
    const { chorus, bar, beat, sub, nominalMs } = entry;
    const spell = makeSpeller({ palette, symbol: chord?.symbol ?? null, key: form.key });
    return {
      ...{ index, chorus, bar, beat, sub, nominalMs, marks },
      chord: chord?.symbol?.text ?? 'N.C.',
      palette: palette === null ? 'none' : paletteName(palette),
      note: note && {
        midi: note.midi,
        name: spell(note.midi),
        onsetMs: note.onsetMs,
        deviationMs: note.onsetMs - nominalMs,
        velocity: note.velocity,
        durationMs: note.durationMs,
      },
      judged: true,
      faults: hasExtra ? [...faults, 'extra'] : faults,
    };
  });
  const changes = readChanges(line).map((change): Report['changes'][number] => {
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
  const slotsPerBeat = settings.slotsPerBeat ?? (isCompound(form.meter) ? 3 : 2);
  const plannedSlots =
    settings.choruses === null
      ? null
      : slotsOf(perform(form, settings, settings.choruses), settings).length;
  const slotsPerChorus = slotsOf(perform(form, settings, 1), settings).length;
  const graded = slots.length;
  // Without a planned end: up to the end of the chorus begun, which the text leaves open.
  const owed = plannedSlots ?? Math.ceil(graded / slotsPerChorus) * slotsPerChorus;
  return {
    schema: 'linekeeper.report/1',
    chart: form.title,
    plan: form.plan,
    level: settings.level,
    tempo: settings.tempo.kind === 'steady' ? settings.tempo.tempoBpm : Number.NaN,
    meter: formatMeter(form.meter),
    slotsPerBeat,
    swing: settings.swing,
    latencyMs: settings.latencyMs,
    splitMidi: settings.splitMidi,
    sources: [{ name: '', latencyMs: settings.latencyMs, splitMidi: settings.splitMidi }],
    breaks: [],
    closing: null,
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
      settings.leftHand && settings.splitMidi !== null && last >= 0
        ? judgeLeftHand(
            played,
            keys.filter((key) => !isLine(key)),
            entries[last]?.atBeat ?? 0,
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

interface Laid {
  readonly entries: readonly Entry[];
  readonly filled: readonly FilledSlot[];
}

function slotEntries(
  played: Performance,
  strikes: readonly Strike[],
  settings: GradeSettings,
  plannedBeats: number,
): Laid {
  const all = slotsOf(played, settings);
  const planned = all.filter(({ atBeat }) => atBeat < plannedBeats);
  const lastOfChorus = all.filter(({ chorus }) => chorus === 1).at(-1);
  const chorusMs = played.timeMs(played.beatsPerChorus);
  const before = { nominalMs: (lastOfChorus?.nominalMs ?? 0) - chorusMs };
  const after = all[planned.length] ?? { nominalMs: played.timeMs(played.beats.length) };
  return { entries: planned, filled: fillSlots([before, ...planned, after], strikes) };
}

/** "A note belongs to the chord in force at the nearest twelfth of a beat." */
function freeEntries(played: Performance, strikes: readonly Strike[], plannedBeats: number): Laid {
  const entries: Entry[] = [];
  const filled: FilledSlot[] = [];
  const oneBeatMs = played.timeMs(1);
  for (const { note, extras } of strikes) {
    const twelfth = Math.round((note.onsetMs / oneBeatMs) * 12);
    const beat = played.beats[Math.floor(twelfth / 12)];
    if (twelfth < 0 || twelfth >= plannedBeats * 12 || beat === undefined) continue;
    const { chorus, bar, chord } = beat;
    entries.push({
      ...{ chorus, bar, beat: beat.beat, chord, toleranceMs: null },
      sub: twelfth % 12,
      atBeat: twelfth / 12,
      nominalMs: played.timeMs(twelfth / 12),
    });
    filled.push({ note, extras: extras.map((key) => ({ key, reason: 'double' })) });
  }
  return { entries, filled };
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
    const nextBeat =
      settings.level === 'free'
        ? Math.floor(atBeat + slotBeats + 1e-9)
        : Math.floor(atBeat) + (sub + 1 === slots ? 1 : 0);
    return beat > 0 && changesBetween(chord, played.beats[nextBeat]?.chord ?? chord);
  });
  return { played, entries, notes: filled.map(({ note }) => note), sinceChange, beforeChange };
}

/** "At each chord's start the left hand owes its bass note." Keys struck together give the lowest: left open by the text. */
function judgeLeftHand(
  played: Performance,
  keys: readonly Key[],
  endBeat: number,
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
