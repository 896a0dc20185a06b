/** What weeks of practice come to, as it crosses the bridge: figures; words are made where they are shown. */

import { CHORD_FAMILIES } from '../../src/core/theory/chord-symbol.ts';
import {
  DUE_REASONS,
  FAULTS,
  HEAT_RULES,
  LATENESS,
  LEVELS,
  READINESS,
} from '../../src/core/words.ts';
import { z } from '../schema.ts';

const id = z.string().min(1).max(64);
const count = z.int().min(0);
const tempoBpm = z.number().min(1).max(1000);
const minutes = z.number().min(0).max(1440);
const bars = z.strictObject({ from: z.int().min(1), to: z.int().min(1) });

/** Names one practice: a chart under a plan, in a key, at a level. */
export const practiceNameSchema = z.strictObject({
  chartId: id,
  plan: z.string().max(200),
  key: z.string().max(8),
  level: z.enum(LEVELS),
});

const changeSchema = z.strictObject({
  bar: z.int(),
  beat: z.int(),
  toChord: z.string().max(100),
});

const interval = z.strictObject({ lower: z.number(), upper: z.number() });

const obstacleSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('undecided'), takes: z.int() }),
  z.strictObject({ kind: z.literal('choruses'), missing: z.number() }),
  z.strictObject({ kind: z.literal('slots'), missing: z.number() }),
  z.strictObject({ kind: z.literal('takes'), missing: z.number() }),
  z.strictObject({ kind: z.literal('cleanRate'), lower: z.number() }),
  z.strictObject({
    kind: z.literal('changes'),
    onTimeShare: z.number(),
    worst: z.array(changeSchema).readonly(),
  }),
  z.strictObject({ kind: z.literal('bars'), bars: z.array(z.int()).readonly() }),
]);

/** What takes at one tempo come to. */
const verdictSchema = z.strictObject({
  verdict: z.enum(READINESS),
  nextTempoBpm: tempoBpm,
  choruses: count,
  slots: count,
  clean: count,
  interval,
  obstacles: z.array(obstacleSchema).readonly(),
});

const retrievability = z.number().nullable();

/** A weak place, with what speaks for it. */
const placeSchema = bars.extend({
  slots: count,
  clean: count,
  interval,
  takes: count,
  standing: z.enum(['surely', 'perhaps']),
  elsewhereRate: z.number().nullable(),
  causes: z
    .array(
      z.discriminatedUnion('kind', [
        z.strictObject({ kind: z.literal('fault'), fault: z.enum(FAULTS), count }),
        z.strictObject({ kind: z.literal('change'), change: changeSchema, count }),
      ]),
    )
    .readonly(),
});

const drillStateSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('untilItHolds'),
    tempoBpm,
    heldBpm: tempoBpm.nullable(),
    obstacles: z.array(obstacleSchema).readonly(),
  }),
  z.strictObject({ kind: z.literal('backInContext'), tempoBpm }),
]);

const gainSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('tooThin'), missingDays: count, missingSpanDays: count }),
  z.strictObject({ kind: z.literal('oneTempo') }),
  z.strictObject({
    kind: z.literal('gain'),
    bpmPerWeek: z.number(),
    lower: z.number(),
    upper: z.number(),
    days: count,
  }),
]);

const heldTempos = {
  holdsBpm: tempoBpm.nullable(),
  heldBpm: tempoBpm.nullable(),
  goalBpm: tempoBpm.nullable(),
};

/** How a practice stands: which tempo holds, when it is due, what to do with the tempo. */
export const standingSchema = z.strictObject({
  ...heldTempos,
  presentBpm: tempoBpm,
  daysSince: z.int(),
  /** Days until it is due; 0 or less: due. */
  due: z.strictObject({ inDays: z.int(), reason: z.enum(DUE_REASONS), retrievability }),
  advice: z.strictObject({ tempoBpm, verdict: verdictSchema }),
});

/** One practice in short, for a list. */
export const practiceRowSchema = practiceNameSchema.extend({
  chartTitle: z.string().max(500),
  takes: count,
  lastTakeId: id,
  standing: standingSchema,
});

/** What was played of a practice while its chart had other bars, chords or palettes. */
const beforeSchema = practiceNameSchema.extend({
  chartTitle: z.string().max(500),
  takes: count,
  lastTakeId: id,
  /** Days since 1970, where it was played. */
  lastDay: z.int(),
  lastBpm: tempoBpm,
  heldBpm: tempoBpm.nullable(),
});

export const practicesSchema = z.strictObject({
  /** Those played last, the latest first. */
  practices: z.array(practiceRowSchema).readonly(),
  /** Every practice by its name, the latest first. */
  all: z.array(practiceNameSchema.extend({ chartTitle: z.string().max(500) })).readonly(),
  /** Those of forms that charts do not have now, the latest first: they count no more. */
  before: z.array(beforeSchema).readonly(),
});

/** One practice with all there is to tell. */
export const practiceDetailSchema = z.strictObject({
  gain: gainSchema,
  /** Each with the bars its drill loops, and where that stands. */
  places: z
    .array(z.strictObject({ place: placeSchema, drill: bars, state: drillStateSchema }))
    .readonly(),
  tempos: z
    .array(
      z.strictObject({
        tempoBpm,
        takes: count,
        slots: count,
        clean: count,
        lower: z.number(),
        upper: z.number(),
        verdict: z.enum(READINESS),
      }),
    )
    .readonly(),
  /** By what the clean rates of takes scatter more than those of independent slots would, told from the tempo played last. */
  designEffect: z.number().min(1),
  /** Newest first. */
  takes: z
    .array(
      z.strictObject({
        takeId: id,
        playedAtMs: z.number(),
        /** Days since 1970, where it was played. */
        day: z.int(),
        ...{ tempoBpm, slots: count, clean: count },
      }),
    )
    .readonly(),
});

const whySchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('due'),
    daysSince: z.int(),
    reason: z.enum(DUE_REASONS),
    retrievability,
  }),
  z.strictObject({
    kind: z.literal('nearRaise'),
    presentBpm: tempoBpm,
    obstacles: z.array(obstacleSchema).readonly(),
  }),
  z.strictObject({
    kind: z.literal('weakPlace'),
    place: bars,
    slots: count,
    clean: count,
    contextBpm: tempoBpm,
  }),
  z.strictObject({ kind: z.literal('newThing'), fromBpm: tempoBpm.nullable() }),
]);

const candidateSchema = z.strictObject({
  id: z.string().max(2000),
  play: practiceNameSchema.extend({
    chartTitle: z.string().max(500),
    tempoBpm,
    bars: bars.nullable(),
  }),
  why: whySchema,
});

export const playItemSchema = candidateSchema.extend({
  kind: z.enum(['due', 'nearRaise', 'weakPlace', 'newThing']),
  minutes,
});

export const sessionWishSchema = z.strictObject({
  minutes,
  /** Of playing in a day; null without a limit. */
  dailyLimitMinutes: minutes.nullable(),
  locked: z.array(playItemSchema).max(200).readonly(),
  skippedIds: z.array(z.string().max(2000)).max(1000).readonly(),
});

export const sessionSchema = z.strictObject({
  session: z.strictObject({
    minutes,
    playMinutes: minutes.nullable(),
    items: z
      .array(
        z.discriminatedUnion('kind', [
          playItemSchema.extend({ kind: z.literal('due') }),
          playItemSchema.extend({ kind: z.literal('nearRaise') }),
          playItemSchema.extend({ kind: z.literal('weakPlace') }),
          playItemSchema.extend({ kind: z.literal('newThing') }),
          z.strictObject({ kind: z.literal('break'), minutes }),
        ]),
      )
      .readonly(),
    lockedIds: z.array(z.string().max(2000)).readonly(),
    skippedIds: z.array(z.string().max(2000)).readonly(),
    spare: z.array(candidateSchema).readonly(),
  }),
  /** Of today, so far. */
  playedMinutes: z.number().min(0),
});

export const ladderSchema = z.strictObject({
  rungs: z
    .array(
      practiceNameSchema.extend({
        state: z.enum(['done', 'goingOn', 'notBegun']),
        isNext: z.boolean(),
        /** What to begin or go on at. */
        tempoBpm,
        ...heldTempos,
      }),
    )
    .readonly(),
});

export const HEAT_PICTURES = [
  'rulesByBars',
  'weeksByBars',
  'chordsByRoots',
  'changesByLateness',
] as const;

export const heatWishSchema = z.strictObject({
  picture: z.enum(HEAT_PICTURES),
  chartId: id.nullable(),
  plan: z.string().max(200).nullable(),
  key: z.string().max(8).nullable(),
  level: z.enum(LEVELS).nullable(),
  tempoBpm: z.strictObject({ from: z.number(), to: z.number() }).nullable(),
  playedAtMs: z.strictObject({ from: z.number(), to: z.number() }).nullable(),
});

function axes<Name extends HeatPicture, Row extends z.ZodType, Column extends z.ZodType>(
  picture: Name,
  row: Row,
  column: Column,
) {
  return z.strictObject({
    picture: z.literal(picture),
    rows: z.array(row).readonly(),
    columns: z.array(column).readonly(),
  });
}

export const heatSchema = z.strictObject({
  axes: z.discriminatedUnion('picture', [
    axes('rulesByBars', z.enum(HEAT_RULES), z.int()),
    /** Rows are the Mondays of weeks, in days since 1970. */
    axes('weeksByBars', z.int(), z.int()),
    /** Columns are pitch classes, C = 0. */
    axes('chordsByRoots', z.enum(CHORD_FAMILIES), z.int()),
    axes('changesByLateness', changeSchema, z.enum(LATENESS)),
  ]),
  cells: z
    .array(
      z
        .array(z.strictObject({ hits: count, of: count, takeIds: z.array(id).max(5).readonly() }))
        .readonly(),
    )
    .readonly(),
  takes: count,
  /** Takes that were kept before what the picture needs was kept with them. */
  uncounted: count,
  /** Whether older ones were left out, so that the picture is there at once. */
  isNewestOnly: z.boolean(),
});

export type PracticeName = z.infer<typeof practiceNameSchema>;
export type PracticeRow = z.infer<typeof practiceRowSchema>;
export type NamedPractice = z.infer<typeof practicesSchema>['all'][number];
export type PracticeBefore = z.infer<typeof beforeSchema>;
export type PracticeDetail = z.infer<typeof practiceDetailSchema>;
export type LadderReply = z.infer<typeof ladderSchema>;
export type HeatWish = z.infer<typeof heatWishSchema>;
export type HeatReply = z.infer<typeof heatSchema>;
export type HeatPicture = (typeof HEAT_PICTURES)[number];
