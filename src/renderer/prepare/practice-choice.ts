/** How a chart is to be practised: what a player sets on the first screen, remembered for each chart. */

import type { ChartRow, Settings, TakeSetUp } from '../../../shared/bridge/index.ts';
import { z } from '../../../shared/schema.ts';
import type { PreparedForm } from '../../core/chart/index.ts';
import { completeSettings } from '../../core/grading/index.ts';
import { LINE_SHAPES, LINE_STYLES, type LineRules, USUAL_SHAPE } from '../../core/line/index.ts';
import { KEY_CYCLES } from '../../core/plan/index.ts';
import type { SourceOverrides } from '../../core/take/sources.ts';
import { ALLOWANCES, LEVELS, PLAIN } from '../../core/words.ts';
import { registerSchema } from './example-shape.ts';

const allowance = z.enum(ALLOWANCES).nullable().catch(null);

export const HEARD_FIRST = ['nothing', 'toAnswer', 'toPlayBack'] as const;
export type HeardFirst = (typeof HEARD_FIRST)[number];

const practiceChoiceSchema = z.object({
  plan: z.string().max(200).catch(PLAIN),
  /** Null: the chart's own. */
  key: z.string().max(8).nullable().catch(null),
  level: z.enum(LEVELS).catch('steps'),
  /** Null: the chart's own. */
  tempoBpm: z.number().min(20).max(400).nullable().catch(null),
  /** Null: the whole form. */
  bars: z
    .object({ from: z.int().min(1), to: z.int().min(1) })
    .nullable()
    .catch(null),
  /** Null: endless. */
  choruses: z.int().min(1).max(1000).nullable().catch(2),
  /** In endless play: whether the tempo follows readiness, from take to take. */
  nudge: z.boolean().catch(false),
  /** In which order the keys follow one another, take after take; null: the key stays. */
  keyCycle: z.enum(KEY_CYCLES).nullable().catch(null),
  /** What is heard before each take: nothing, a chorus to answer with one's own line, or one to play back. */
  heardFirst: z.enum(HEARD_FIRST).catch('nothing'),
  /** In which style example lines are, how widely they move, and in which keys: those on the first screen and those heard before takes. */
  exampleStyle: z.enum(LINE_STYLES).catch('teaching'),
  exampleShape: z.enum(LINE_SHAPES).catch(USUAL_SHAPE),
  exampleRegister: registerSchema,
  slotsPerBeat: z
    .union([z.literal(1), z.literal(2), z.literal(3), z.literal(4)])
    .nullable()
    .catch(null),
  swing: z.number().min(1).max(4).catch(1),
  toleranceMs: z.number().min(5).max(500).nullable().catch(null),
  /** Null: as the level has it. */
  approach: allowance,
  repeats: allowance,
  lineUp: allowance,
  anticipation: allowance,
  leftHand: z.boolean().catch(false),
  /** The tempo it is to reach one day. */
  goalBpm: z.number().min(20).max(400).nullable().catch(null),
  /** What whoever handed the chart over says about it. */
  note: z.string().max(10_000).catch(''),
});

export type PracticeChoice = Readonly<z.infer<typeof practiceChoiceSchema>>;

/** What holds for a chart nobody has played. */
export function firstChoice(): PracticeChoice {
  return practiceChoiceSchema.parse({});
}

const nameOf = (chartId: string): string => `practice ${chartId}`;

/** The swing of a player whose takes told it: for charts that nothing was chosen for yet. */
const USUAL_SWING = 'usual swing';
const usualSwingSchema = practiceChoiceSchema.shape.swing;

/** What was last chosen for a chart. */
export function readPracticeChoice(stored: Settings, chartId: string): PracticeChoice {
  const read = practiceChoiceSchema.safeParse(stored[nameOf(chartId)]);
  if (read.success) return read.data;
  return { ...firstChoice(), swing: usualSwingSchema.parse(stored[USUAL_SWING]) };
}

/** Keeps a swing for the player: for a chart, and for all that are yet to be played. */
export function storeSwing(stored: Settings, chartId: string, swing: number): Settings {
  const choice = { ...readPracticeChoice(stored, chartId), swing };
  return { ...storePracticeChoice(chartId, choice), [USUAL_SWING]: swing };
}

/** The choice as it is stored. */
export function storePracticeChoice(chartId: string, choice: PracticeChoice): Settings {
  return { [nameOf(chartId)]: choice };
}

/** The keyboard a take is known to be of, and what is to hold in the place of what its sources say. */
export interface HandSettings extends SourceOverrides {
  readonly deviceName: string | null;
}

export const NO_HAND: HandSettings = { deviceName: null };

/** The tempo a choice plays a chart at. */
export function tempoOf({ form }: PreparedForm, { tempoBpm }: PracticeChoice): number {
  return tempoBpm ?? form.tempoBpm ?? 60;
}

/** The rules that are to be otherwise than the level has them. */
export function ownRules({
  approach,
  repeats,
  lineUp,
  anticipation,
}: Pick<PracticeChoice, keyof LineRules>): LineRules {
  return {
    ...(approach === null ? {} : { approach }),
    ...(repeats === null ? {} : { repeats }),
    ...(lineUp === null ? {} : { lineUp }),
    ...(anticipation === null ? {} : { anticipation }),
  };
}

/** What a take of a prepared chart is played on. */
export function setUpOf(
  row: Pick<ChartRow, 'chartId' | 'title' | 'text'>,
  prepared: PreparedForm,
  choice: PracticeChoice,
  { deviceName, ...overrides }: HandSettings,
): TakeSetUp {
  return {
    chartId: row.chartId,
    chartTitle: row.title,
    chartText: row.text,
    plan: choice.plan,
    key: prepared.key,
    bars: choice.bars,
    grade: completeSettings({
      level: choice.level,
      tempo: { kind: 'steady', tempoBpm: tempoOf(prepared, choice) },
      choruses: choice.choruses,
      slotsPerBeat: choice.slotsPerBeat,
      swing: choice.swing,
      toleranceMs: choice.toleranceMs,
      leftHand: choice.leftHand,
      ...overrides,
      ...ownRules(choice),
    }),
    deviceName,
    model: null,
  };
}
