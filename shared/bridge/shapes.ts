/** The data that crosses the bridge, each with its one schema. Both hosts and the renderer infer their types here. */

import { EARLIEST_MS, LATEST_MS } from '../../src/core/journal/index.ts';
import { FURTHEST_MS, MOST_SOURCES } from '../../src/core/take/model.ts';
import { ALLOWANCES, FAULTS, LEVELS, READING_CHOICES } from '../../src/core/words.ts';
import { z } from '../schema.ts';
import { mergedSchema } from './notice.ts';
import { refusalSchema } from './refusal.ts';

const id = z.string().min(1).max(64);
/** A time of a take, which the library keeps to the microsecond. */
export const timeMs = z.number().min(-FURTHEST_MS).max(FURTHEST_MS);
const midi = z.int().min(0).max(127);
export const chartTitle = z.string().min(1).max(500);
const allowance = z.enum(ALLOWANCES);
/** A chart text may be long, not endless. */
export const chartText = z.string().max(1_000_000);

const latencyMs = z.number().min(-500).max(1000);

/** Which of the take's sources it came from; absent: the first. */
const source = z
  .int()
  .min(0)
  .max(MOST_SOURCES - 1)
  .exactOptional();

export const takeEventSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('noteOn'),
    atMs: timeMs,
    midi,
    velocity: z.int().min(0).max(127),
    source,
  }),
  z.strictObject({ kind: z.literal('noteOff'), atMs: timeMs, midi, source }),
  z.strictObject({ kind: z.literal('pedal'), atMs: timeMs, down: z.boolean(), source }),
  z.strictObject({
    kind: z.literal('allOff'),
    atMs: timeMs,
    cause: z.enum(['allNotesOff', 'disconnect']),
    source,
  }),
]);

/** The keyboards of a take. */
export const takeSourcesSchema = z
  .array(z.strictObject({ name: z.string().max(200), latencyMs, splitMidi: midi.nullable() }))
  .max(MOST_SOURCES)
  .readonly();

/** The spans of a take that are not judged. */
export const takeBreaksSchema = z
  .array(
    z
      .strictObject({ fromMs: timeMs, toMs: timeMs })
      .refine(({ fromMs, toMs }) => fromMs <= toMs, 'a break must not end before it begins'),
  )
  .max(10_000)
  .readonly();

const cleared = { clears: z.int().min(0), of: z.int().min(0) };
const wholeTake = { fromSlot: z.null(), ...cleared };
const timing = z.strictObject({ swing: z.number().min(1).max(4), latencyMs: timeMs });

/** Another reading of a take: the core's `Reading`. */
export const takeReadingSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('timing'), value: timing, ...wholeTake }),
  z.strictObject({ kind: z.literal('split'), value: midi.nullable(), ...wholeTake }),
  z.strictObject({ kind: z.literal('start'), value: z.int(), ...wholeTake }),
  z.strictObject({ kind: z.literal('key'), value: z.int().min(-5).max(6), ...wholeTake }),
  z.strictObject({
    ...{ kind: z.literal('slip'), value: z.int().min(-2).max(2), fromSlot: z.int().min(0) },
    ...cleared,
  }),
  z.strictObject({ kind: z.literal('level'), value: z.enum(LEVELS), ...wholeTake }),
]);

export const takeReadingsSchema = z.array(takeReadingSchema).max(3).readonly();

/** What the player answered to a reading. */
export const takeDecisionSchema = z.strictObject({
  reading: takeReadingSchema,
  choice: z.enum(READING_CHOICES),
});

/** What a MIDI file can say: 1 to 16777215 µs a quarter. Source: SMF 1.0, "Set Tempo". */
const SHORTEST_QUARTER_MS = 0.001;
const LONGEST_QUARTER_MS = 16_777.215;
const MOST_QUARTERS = FURTHEST_MS / SHORTEST_QUARTER_MS;

interface Point {
  readonly atMs: number;
  readonly atQuarter: number;
}

/** Beats are looked up in the map by halving it, which finds its way in an ascending one alone. */
function isAscending(points: readonly Point[]): boolean {
  return points.every(({ atMs, atQuarter }, index) => {
    const before = points[index - 1];
    return before === undefined || (atMs >= before.atMs && atQuarter >= before.atQuarter);
  });
}

export const takeTempoSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('steady'), tempoBpm: z.number().min(20).max(400) }),
  z.strictObject({
    kind: z.literal('mapped'),
    points: z
      .array(
        z.strictObject({
          atMs: timeMs,
          atQuarter: z.number().min(-MOST_QUARTERS).max(MOST_QUARTERS),
          msPerQuarter: z.number().min(SHORTEST_QUARTER_MS).max(LONGEST_QUARTER_MS),
        }),
      )
      .min(1)
      .max(100_000)
      .refine(isAscending, 'points of a tempo map must ascend')
      .readonly(),
  }),
]);

/** Everything a grader needs beside the form; the same fields as the core's `GradeSettings`, all given. */
export const gradeSettingsSchema = z.strictObject({
  level: z.enum(LEVELS),
  tempo: takeTempoSchema,
  choruses: z.int().min(1).max(1000).nullable(),
  slotsPerBeat: z.union([z.literal(1), z.literal(2), z.literal(3), z.literal(4)]).nullable(),
  swing: z.number().min(1).max(4),
  /** In the place of those of every source; absent: each source has its own. Takes kept before sources were have them. */
  latencyMs: latencyMs.exactOptional(),
  splitMidi: midi.nullable().exactOptional(),
  toleranceMs: z.number().min(0).max(500).nullable(),
  approach: allowance,
  repeats: allowance,
  lineUp: allowance,
  anticipation: allowance,
  leftHand: z.boolean(),
});

/**
 * What a take was played on. The chart's text is kept with the take, so that its report stays what it was when
 * the chart is edited later; `bars` is the range played, in bars of the unrolled form, or null for all of it.
 */
export const takeSetUpSchema = z.strictObject({
  chartId: id,
  chartTitle: z.string().max(500),
  chartText,
  plan: z.string().max(200),
  /** Key the chart was transposed to, as `Bb` or `F#m`. */
  key: z.string().max(8),
  /** The key it was set to, where a reading that was taken has moved the take to the practice in `key`. */
  keyAsSet: z.string().max(8).exactOptional(),
  bars: z.strictObject({ from: z.int().min(1), to: z.int().min(1) }).nullable(),
  grade: gradeSettingsSchema,
  deviceName: z.string().max(200).nullable(),
  /** The line of one chorus that was heard before and is to be played back, its places in twelfths of a beat; or null. */
  model: z
    .array(z.strictObject({ at: z.int().min(0), midi, name: z.string().max(8) }))
    .max(100_000)
    .readonly()
    .nullable()
    .default(null),
});

/** One chord of the form over all choruses of a take. */
const chordEvidenceSchema = z.strictObject({
  bar: z.int().min(1),
  beat: z.int().min(1),
  chord: z.string().max(100),
  slots: z.int().min(0),
  clean: z.int().min(0),
  faults: z.partialRecord(z.enum(FAULTS), z.int().min(1)),
  arrivals: z
    .strictObject({
      onTime: z.int().min(0),
      unproven: z.int().min(0),
      lateBySlots: z.array(z.int().min(1)).max(100_000).readonly(),
    })
    .nullable(),
});

/** Figures of a report, kept beside a take so that lists need not grade again. The host makes them: `Figures` of the core. */
export const takeFiguresSchema = z.strictObject({
  slots: z.int().min(0),
  clean: z.int().min(0),
  changesCounted: z.int().min(0),
  changesOnTime: z.int().min(0),
  /** These two: 0 in takes kept before they were told. */
  changesUnproven: z.int().min(0).default(0),
  changesLeftOut: z.int().min(0).default(0),
  /** What readiness is judged on beyond these; null for takes kept before it was. */
  evidence: z
    .strictObject({
      choruses: z.int().min(0),
      bars: z
        .array(
          z.strictObject({
            bar: z.int().min(1),
            slots: z.int().min(0),
            clean: z.int().min(0),
            /** These two: absent from takes kept before they were told. */
            times: z.int().min(0).optional(),
            faultySquares: z.int().min(0).optional(),
          }),
        )
        .max(100_000)
        .readonly(),
      lateChanges: z
        .array(
          z.strictObject({
            bar: z.int().min(1),
            beat: z.int().min(1),
            toChord: z.string().max(100),
          }),
        )
        .max(1_000_000)
        .readonly(),
      /** Absent from takes kept before it was told. */
      chords: z.array(chordEvidenceSchema).max(200_000).readonly().optional(),
    })
    .nullable()
    .default(null),
});

export const takeRowSchema = z.strictObject({
  takeId: id,
  /** Wall clock, ms since 1970. */
  startedAtMs: z.number(),
  endMs: timeMs,
  note: z.string().max(10_000),
  figures: takeFiguresSchema.nullable(),
  /** `recording` while it is played. */
  state: z.enum(['recording', 'finished']),
  setUp: takeSetUpSchema.omit({ chartText: true, model: true }),
});

/** However long a journal has grown, what was played can be read. */
export const takeRecordSchema = z.strictObject({
  row: takeRowSchema,
  setUp: takeSetUpSchema,
  events: z.array(takeEventSchema).readonly(),
  sources: takeSourcesSchema,
  breaks: takeBreaksSchema,
  /** Null while the take has not been read yet. */
  readings: takeReadingsSchema.nullable(),
  /** What the player answered to the first of them; null while undecided. */
  decision: takeDecisionSchema.nullable(),
});

/** A moment the journal has a page for, ms since 1970. */
export const journalMs = z.number().min(EARLIEST_MS).max(LATEST_MS);

/** The short facts of a take, as the core's `JournalTake`. */
export const journalTakeSchema = z.strictObject({
  takeId: id,
  chartId: id,
  chartTitle: z.string(),
  plan: z.string(),
  key: z.string(),
  level: z.enum(LEVELS),
  tempoBpm: z.number().nullable(),
  bars: z.strictObject({ from: z.int().min(1), to: z.int().min(1) }).nullable(),
  startedAtMs: journalMs,
  /** When that was by the clock on the wall there: days since 1970, minutes since midnight. */
  day: z.int(),
  minute: z.int().min(0).max(1439),
  endMs: timeMs,
  slots: z.int().min(0),
  clean: z.int().min(0),
  note: z.string(),
});

/** A remark on a session of practice, kept at a moment of it. */
export const sessionRemarkSchema = z.strictObject({
  atMs: journalMs,
  text: z.string().max(10_000),
});

/** Words a player sorts charts by. */
export const tagsSchema = z.array(z.string().trim().min(1).max(60)).max(30).readonly();

interface Stretch {
  readonly from: number;
  readonly length: number;
}

/** One voice: each sound ends before the next one begins. */
function areApart(sounds: readonly Stretch[]): boolean {
  return sounds.every(({ from }, index) => {
    const before = sounds[index - 1];
    return before === undefined || before.from + before.length <= from;
  });
}

/** A melody kept beside a chart: see `src/core/melody/model.ts`. As long as the longest chart has twelfths. */
export const melodySchema = z.strictObject({
  leadIn: z.int().min(0).max(200),
  fifths: z.int().min(-20).max(20),
  bars: z
    .array(
      z.strictObject({
        meter: z.string().max(8),
        roots: z.array(z.int().min(-1).max(11)).max(12).readonly(),
      }),
    )
    .max(10_000)
    .readonly(),
  sounds: z
    .array(
      z.strictObject({
        from: z.int().min(-200).max(1_000_000),
        length: z.int().min(1).max(1_000_000),
        name: z.string().regex(/^[A-G](b{0,2}|#{0,2})-?\d$/),
      }),
    )
    .max(1_000_000)
    .refine(areApart, 'sounds of a melody must not overlap')
    .readonly(),
});

export const chartRowSchema = z.strictObject({
  chartId: id,
  title: z.string(),
  text: chartText,
  builtIn: z.boolean(),
  tags: tagsSchema,
  lastPlayedAtMs: z.number().nullable(),
});

/** What is remembered of one input device together with one sound output. */
export const deviceSchema = z.strictObject({
  deviceName: z.string().min(1).max(200),
  outputName: z.string().max(200),
  latencyMs,
  /** Spread of the calibration it came from (standard deviation), null when it was set by hand. */
  spreadMs: z.number().min(0).max(1000).nullable(),
  splitMidi: midi.nullable(),
  channel: z.int().min(1).max(16).nullable(),
});

/** A player's choices, one document; the renderer owns its shape beyond size and JSON. */
export const settingsSchema = z.record(z.string().max(100), z.json());

const backupSchema = z.strictObject({
  name: z.string(),
  /** ms since 1970, by the clock of its day. */
  madeAtMs: z.number(),
});

export const libraryStateSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('open'),
    folder: z.string(),
    /** Newest first. */
    backups: z.array(backupSchema).readonly(),
    /** Why the last backup could not be made; null when it was. */
    problem: refusalSchema.nullable(),
    /** How many takes are counted, after an update, before progress can be told; null once all are. */
    counting: z
      .strictObject({
        done: z.int().min(0),
        of: z.int().min(0),
        /** Why it does not go on; null while it does. */
        problem: refusalSchema.nullable(),
      })
      .nullable(),
  }),
  z.strictObject({
    kind: z.literal('damaged'),
    folder: z.string(),
    what: refusalSchema,
    /** The newest backup that is sound, with what is in it. */
    backup: backupSchema.extend({ charts: z.int().min(0), takes: z.int().min(0) }).nullable(),
    /** How many backups newer than that are damaged too. */
    damagedBackups: z.int().min(0),
  }),
]);

const importCounts = z.strictObject({
  charts: z.int().min(0),
  takes: z.int().min(0),
  settings: z.int().min(0),
  devices: z.int().min(0),
});

/** What became of an archive that was imported. */
export const importResultSchema = z.strictObject({
  added: importCounts,
  alreadyHere: importCounts,
  /** What was kept twice or left as it is here; of very many, the first. */
  told: z.array(mergedSchema).readonly(),
  /** How many more there were. */
  untold: z.int().min(0),
});

export type TakeDecision = z.infer<typeof takeDecisionSchema>;
export type TakeSetUp = z.infer<typeof takeSetUpSchema>;
export type TakeFigures = z.infer<typeof takeFiguresSchema>;
export type TakeRow = z.infer<typeof takeRowSchema>;
export type TakeRecord = z.infer<typeof takeRecordSchema>;
export type ChartRow = z.infer<typeof chartRowSchema>;
export type Device = z.infer<typeof deviceSchema>;
export type ImportResult = z.infer<typeof importResultSchema>;
export type LibraryState = z.infer<typeof libraryStateSchema>;
export type Settings = z.infer<typeof settingsSchema>;
