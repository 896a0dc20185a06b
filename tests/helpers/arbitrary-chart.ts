/** Random charts as reading chart text gives them: every one can be written and read back. */

import fc from 'fast-check';
import {
  type BarContent,
  beatsPerBar,
  type Chart,
  type GivenPalette,
  type HeaderLine,
  longestPickup,
  METERS,
  type Meter,
  pickupBeatsBefore,
  pickupMeter,
  type Section,
  TEMPO_RANGE_BPM,
  type WrittenBar,
  type WrittenChord,
  type WrittenPickup,
  type WrittenPlan,
} from '../../src/core/chart/index.ts';
import {
  type ChordSymbol,
  parseChordSymbol,
  parsePaletteText,
} from '../../src/core/theory/index.ts';
import type { Key } from '../../src/core/theory/key.ts';

export interface ArbitraryChartOptions {
  /** Most sharps or flats of the key signature, at most 7 (the default). */
  readonly maxFifths?: number;
  /** Spellings of chord roots; default all with one accidental or none that musicians use. */
  readonly roots?: readonly string[];
  /** Endings of chord symbols such as `/G`; default none more often than one. */
  readonly basses?: readonly string[];
  /** Whether chords may carry a palette named by the writer; default true. */
  readonly givenPalettes?: boolean;
}

const ROOTS = [
  'C',
  'Db',
  'C#',
  'D',
  'Eb',
  'D#',
  'E',
  'F',
  'F#',
  'Gb',
  'G',
  'Ab',
  'A',
  'Bb',
  'B',
  'Cb',
];
const QUALITIES = [
  '',
  'm',
  '7',
  'maj7',
  'm7',
  'm7b5',
  'dim7',
  '6',
  'm6',
  '9',
  '13',
  '7b9',
  '7alt',
  'sus4',
  '7sus4',
  'maj9',
  '+',
];
const BASSES = ['', '', '', '/G', '/Bb', '/F#'];
const PALETTE_TEXTS = [
  'dorian',
  'phrygian dominant',
  'lydian dominant',
  'half-whole diminished',
  'melodic minor up and down',
  'F melodic minor',
  'C D Eb F# G A Bb',
  'Bb D F',
];

/** The symbol of text that is known to be one; a test helper may throw. */
export function chordOf(text: string): ChordSymbol {
  const outcome = parseChordSymbol(text);
  if (!outcome.ok) throw new Error(`not a chord: ${text}`);
  return outcome.value;
}

/** A palette named for a chord, as the parser would keep it. */
export function givenOf(text: string, symbol: ChordSymbol): GivenPalette {
  const outcome = parsePaletteText(text, symbol.root);
  if (!outcome.ok) throw new Error(`not a palette: ${text}`);
  return { text, palette: outcome.value };
}

export function arbitraryKey(maxFifths = 7): fc.Arbitrary<Key> {
  return fc
    .record({
      fifths: fc.integer({ min: -maxFifths, max: maxFifths }),
      mode: fc.constantFrom('major' as const, 'minor' as const),
    })
    .map(({ fifths, mode }) => ({ tonic: mode === 'minor' ? fifths + 3 : fifths, mode }));
}

export function arbitraryMeter(): fc.Arbitrary<Meter> {
  return fc.constantFrom(...METERS);
}

export function arbitraryChordText(
  roots: readonly string[] = ROOTS,
  basses: readonly string[] = BASSES,
): fc.Arbitrary<string> {
  return fc
    .tuple(fc.constantFrom(...roots), fc.constantFrom(...QUALITIES), fc.constantFrom(...basses))
    .map((parts) => parts.join(''));
}

// Made once: the library takes a pattern apart anew each time, which took longer than making the whole rest of a chart.
const WORD = fc.stringMatching(/^[A-Za-zÄéжß0-9.,:|♭'()-]{1,8}$/u);
/** Text that stays itself between two line ends: no comment sign, no white space around it. */
const TEXT = fc.array(WORD, { minLength: 1, maxLength: 4 }).map((words) => words.join(' '));
const NAME = fc.stringMatching(/^[A-Za-zÄéж][A-Za-z0-9 -]{0,10}[A-Za-z0-9]$/u);

const TAKEN = new Set(['title', 'key', 'meter', 'tempo', 'pickup', 'composer', 'note', 'plan']);

function arbitraryHeaders(): fc.Arbitrary<readonly HeaderLine[]> {
  const name = fc.oneof(
    fc.constantFrom('composer', 'note', 'constructor', 'toString', 'hasOwnProperty'),
    NAME.filter((text) => !TAKEN.has(text.toLowerCase())),
  );
  return fc.array(fc.record({ name, value: fc.oneof(TEXT, fc.constant('')) }), {
    maxLength: 3,
  });
}

/** A bar before anything stands in it: its place among the repeats. */
type Frame = Omit<WrittenBar, 'content' | 'meter' | 'doubleAfter'>;

const PLAIN_FRAME: Frame = {
  ...{ repeatStart: false, repeatEnd: false, endings: [], startMark: null, endMark: null },
};

/** Plain bars, a repeat, a repeat with two or three endings, or with one ending for the first and third time. */
function arbitraryPassage(): fc.Arbitrary<readonly Frame[]> {
  const length = fc.integer({ min: 1, max: 4 });
  return fc.oneof(
    length.map((bars) => frames(bars)),
    length.map((bars) => withSigns(frames(bars), { start: true, end: true })),
    fc
      .tuple(length, fc.array(length, { minLength: 2, maxLength: 3 }))
      .map(([body, endings]) => [
        ...withSigns(frames(body), { start: true, end: false }),
        ...endings.flatMap((bars, index) =>
          withSigns(frames(bars), { endings: [index + 1], end: index + 1 < endings.length }),
        ),
      ]),
    fc
      .tuple(length, length, length)
      .map(([body, first, second]) => [
        ...withSigns(frames(body), { start: true, end: false }),
        ...withSigns(frames(first), { endings: [1, 3], end: true }),
        ...withSigns(frames(second), { endings: [2], end: true }),
      ]),
  );
}

function frames(count: number): readonly Frame[] {
  return Array.from({ length: count }, () => PLAIN_FRAME);
}

function withSigns(
  bars: readonly Frame[],
  signs: { readonly start?: boolean; readonly end: boolean; readonly endings?: readonly number[] },
): readonly Frame[] {
  return bars.map((bar, index) => ({
    ...bar,
    repeatStart: index === 0 && (signs.start ?? false),
    endings: index === 0 ? (signs.endings ?? []) : [],
    repeatEnd: index === bars.length - 1 && signs.end,
  }));
}

/** Chords that fill a bar: any cut of its beats into whole lengths, now and then into halves. */
function arbitraryChords(meter: Meter, options: ArbitraryChartOptions): fc.Arbitrary<BarContent> {
  const beatsInBar = beatsPerBar(meter);
  return fc
    .constantFrom(1, 1, 1, 1, 1, 1, 1, 1, 1, 0.5)
    .chain((each) => {
      const places = beatsInBar / each;
      return fc
        .array(fc.boolean(), { minLength: places - 1, maxLength: places - 1 })
        .chain((cuts) => {
          const starts = [0, ...cuts.flatMap((cut, index) => (cut ? [index + 1] : []))];
          const lengths = starts.map((start, index) => (starts[index + 1] ?? places) - start);
          return fc.tuple(...lengths.map((length) => arbitraryChord(length * each, options)));
        });
    })
    .map((chords) => {
      let beat = 1;
      const placed = chords.map((chord) => {
        const at = { ...chord, beat };
        beat += chord.beats;
        return at;
      });
      return { kind: 'chords' as const, chords: placed };
    });
}

function arbitraryChord(
  beats: number,
  options: ArbitraryChartOptions,
): fc.Arbitrary<Omit<WrittenChord, 'beat'>> {
  const palette = fc.option(fc.constantFrom(...PALETTE_TEXTS));
  return fc
    .tuple(fc.option(arbitraryChordText(options.roots, options.basses), { freq: 9 }), palette)
    .map(([text, paletteText]) => {
      const symbol = text === null ? null : chordOf(text);
      const named = symbol !== null && paletteText !== null && (options.givenPalettes ?? true);
      return { beats, symbol, given: named ? givenOf(paletteText, symbol) : null };
    });
}

/** A pickup before a bar of a meter, with chords or without; in half of the charts. */
function arbitraryPickup(
  meter: Meter,
  options: ArbitraryChartOptions,
): fc.Arbitrary<WrittenPickup | null> {
  const pickup = fc.integer({ min: 1, max: longestPickup(meter) }).chain((eighths) => {
    const begins = 1 + pickupBeatsBefore(eighths, meter);
    const chords = arbitraryChords(pickupMeter(eighths, meter), options)
      .map((content) => (content.kind === 'chords' ? content.chords : []))
      .filter((own) => own.every(({ beat, beats }) => beat + beats > begins));
    return fc.oneof(fc.constant([]), chords).map((own) => ({ eighths, chords: own }));
  });
  return fc.option(pickup, { freq: 2 });
}

/** `%` where it may surely stand: after a bar of the same meter, and where nothing is jumped to or goes on after a repeat. */
function maySayAgain(bar: Frame, before: Frame | undefined): boolean {
  const goesOn = before?.repeatEnd === true && bar.endings.length === 0;
  const isEntered = bar.repeatStart || bar.startMark !== null || (bar.endings[0] ?? 1) > 1;
  return !isEntered && !goesOn;
}

/** A jump in some charts, with the marks it needs. */
function withMarks(form: readonly Frame[]): fc.Arbitrary<readonly Frame[]> {
  const at = fc.integer({ min: 0, max: form.length - 1 });
  const marks = fc.record({
    to: fc.constantFrom('start' as const, 'segno' as const),
    until: fc.constantFrom('fine' as const, 'coda' as const, 'end' as const),
    places: fc.uniqueArray(at, { minLength: 4, maxLength: 4 }),
  });
  if (form.length < 4) return fc.constant(form);
  return fc.option(marks, { freq: 2 }).map((chosen) => {
    if (chosen === null) return form;
    const { to, until } = chosen;
    const [one = 0, two = 1, three = 2, four = 3] = chosen.places.toSorted((a, b) => a - b);
    return form.map((bar, index): Frame => {
      const startMark =
        index === one && to === 'segno'
          ? 'segno'
          : index === four && until === 'coda'
            ? 'coda'
            : null;
      if (index === three)
        return { ...bar, startMark, endMark: { kind: 'jump', jump: { to, until } } };
      if (index !== two || until === 'end') return { ...bar, startMark };
      return { ...bar, startMark, endMark: { kind: until === 'coda' ? 'toCoda' : 'fine' } };
    });
  });
}

function arbitraryBars(
  form: readonly Frame[],
  meters: readonly Meter[],
  options: ArbitraryChartOptions,
): fc.Arbitrary<readonly WrittenBar[]> {
  const bars = form.map((frame, index) => {
    const meter = meters[index] ?? { count: 4, unit: 4 };
    const chords = arbitraryChords(meter, options);
    const same = fc.constant<BarContent>({ kind: 'same' });
    const content =
      meters[index - 1] === meter && maySayAgain(frame, form[index - 1])
        ? fc.oneof({ weight: 4, arbitrary: chords }, { weight: 1, arbitrary: same })
        : chords;
    return fc
      .record({ content, doubleAfter: fc.boolean() })
      .map((own) => ({ ...frame, ...own, meter }));
  });
  return fc.tuple(...bars);
}

function arbitraryMeters(bars: number): fc.Arbitrary<readonly Meter[]> {
  const rare = fc.oneof(
    { weight: 5, arbitrary: fc.constant(null) },
    { weight: 1, arbitrary: arbitraryMeter() },
  );
  return fc
    .tuple(arbitraryMeter(), fc.array(rare, { minLength: bars, maxLength: bars }))
    .map(([start, changes]) => {
      let meter = start;
      return changes.map((wanted) => {
        meter = wanted ?? meter;
        return meter;
      });
    });
}

/** Cuts the bars into sections; only the first may be without a name. */
function arbitrarySections(bars: readonly WrittenBar[]): fc.Arbitrary<readonly Section[]> {
  const cuts = fc.uniqueArray(fc.integer({ min: 1, max: Math.max(1, bars.length - 1) }), {
    maxLength: 3,
  });
  const names = fc.array(NAME, { minLength: 5, maxLength: 5 });
  return fc.tuple(cuts, names, fc.boolean()).map(([at, name, nameless]) => {
    const starts = [0, ...at.filter((cut) => cut < bars.length).sort((one, other) => one - other)];
    return starts.map((start, index) => ({
      name: index === 0 && nameless ? null : (name[index] ?? 'A'),
      bars: bars.slice(start, starts[index + 1]),
    }));
  });
}

function arbitraryPlans(
  meters: readonly Meter[],
  options: ArbitraryChartOptions,
): fc.Arbitrary<readonly WrittenPlan[]> {
  const same = fc.constant<BarContent>({ kind: 'same' });
  const bars = fc.tuple(...meters.map((meter) => fc.oneof(same, arbitraryChords(meter, options))));
  const name = NAME.filter((text) => text.toLowerCase() !== 'plain');
  return fc.uniqueArray(fc.record({ name, bars }), {
    maxLength: 2,
    selector: (plan) => plan.name.toLowerCase(),
  });
}

/** Any chart within the options. */
export function arbitraryChart(options: ArbitraryChartOptions = {}): fc.Arbitrary<Chart> {
  const form = fc
    .array(arbitraryPassage(), { minLength: 1, maxLength: 4 })
    .chain((passages) => withMarks(passages.flat()));
  const tempo = fc.integer({
    min: TEMPO_RANGE_BPM.lowest * 4,
    max: TEMPO_RANGE_BPM.highest * 4,
  });
  return form.chain((frame) =>
    arbitraryMeters(frame.length).chain((meters) =>
      arbitraryBars(frame, meters, options).chain((bars) =>
        fc.record({
          title: TEXT,
          key: arbitraryKey(options.maxFifths),
          keyGiven: fc.constant(true),
          meterGiven: fc.constant(true),
          meter: fc.oneof(fc.constant(meters[0] ?? { count: 4, unit: 4 }), arbitraryMeter()),
          tempoBpm: fc.option(tempo.map((quarters) => quarters / 4)),
          pickup: arbitraryPickup(meters[0] ?? { count: 4, unit: 4 }, options),
          headers: arbitraryHeaders(),
          sections: arbitrarySections(bars),
          plans: arbitraryPlans(meters, options),
        }),
      ),
    ),
  );
}
