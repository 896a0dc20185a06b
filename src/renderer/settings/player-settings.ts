/** What a player has chosen for every take and every screen, with what holds until they choose. */

import type { Settings } from '../../../shared/bridge/index.ts';
import { z } from '../../../shared/schema.ts';
import { BASS_PARTS } from '../audio/index.ts';

const share = z.number().min(0).max(1);
const midi = z.int().min(0).max(127);
const barNumber = z.int().min(1).max(10_000);

const silentBarsSchema = z.discriminatedUnion('kind', [
  z.object({ kind: z.literal('none') }),
  z.object({
    kind: z.literal('alternate'),
    sounding: z.int().min(1).max(64),
    silent: z.int().min(1).max(64),
  }),
  z.object({ kind: z.literal('chosen'), bars: z.array(barNumber).max(1000) }),
]);

/** From where the stage can be read, metres: a stand on the piano, the other end of a room. */
export const NEAREST_M = 0.5;
export const FARTHEST_M = 3;

export const SOUNDED_KEYS = ['computerKeys', 'all', 'none'] as const;

/** Each part has its own fallback: one value that cannot be read costs no other. */
const playerSettingsSchema = z.object({
  sound: z.object({
    countInBars: z.union([z.literal(1), z.literal(2)]).catch(1),
    click: z.enum(['everyBeat', 'twoAndFour', 'none']).catch('everyBeat'),
    accent: z.boolean().catch(true),
    subdivision: z.union([z.literal(1), z.literal(2), z.literal(3), z.literal(4)]).catch(1),
    silentBars: silentBarsSchema.catch({ kind: 'none' }),
    bass: z.enum(BASS_PARTS).catch('root'),
    pad: z.boolean().catch(false),
    volumes: z.object({
      click: share.catch(0.9),
      bass: share.catch(0.7),
      pad: share.catch(0.5),
      note: share.catch(0.8),
    }),
    /** Name of the MIDI output that plays instead of the computer, or null. */
    midiOutput: z.string().max(200).nullable().catch(null),
    /**
     * Whose keys are sounded by the computer: those that have no voice of their own. It was a yes or a no once: a yes was
     * every keyboard, a no nobody's choice, for it stood there from the start.
     */
    soundKeys: z
      .union([z.enum(SOUNDED_KEYS), z.literal(true).transform(() => 'all' as const)])
      .catch('computerKeys'),
  }),
  /** What starts and stops a take, so that the hands can stay at the piano. */
  start: z
    .discriminatedUnion('kind', [
      z.object({ kind: z.literal('none') }),
      z.object({ kind: z.literal('note'), midi }),
      z.object({ kind: z.literal('pedal') }),
    ])
    .catch({ kind: 'none' }),
  look: z.object({
    theme: z.enum(['system', 'light', 'dark']).catch('system'),
    /** Metres from which the stage is read. */
    distanceM: z.number().min(NEAREST_M).max(FARTHEST_M).catch(1),
  }),
  /** Minutes of playing after which a break is called for. */
  breakEveryMinutes: z.int().min(5).max(60).catch(20),
  /** Minutes there are for a session. */
  sessionMinutes: z.int().min(5).max(240).catch(20),
  /** Minutes of playing in a day at most. Common practice, no source. */
  dailyLimitMinutes: z.int().min(5).max(480).catch(90),
});

export type PlayerSettings = Readonly<z.infer<typeof playerSettingsSchema>>;
export type SoundSettings = PlayerSettings['sound'];
export type StartSignal = PlayerSettings['start'];

const NAME = 'player';

/** Reads what is stored; what is missing or cannot be read is the default. */
export function readPlayerSettings(stored: Settings): PlayerSettings {
  const document = asObject(stored[NAME]);
  const sound = asObject(document['sound']);
  return playerSettingsSchema.parse({
    ...document,
    sound: { ...sound, volumes: asObject(sound['volumes']) },
    look: asObject(document['look']),
  });
}

/** The settings as they are stored. */
export function storePlayerSettings(settings: PlayerSettings): Settings {
  return { [NAME]: settings };
}

function asObject(value: unknown): Readonly<Record<string, unknown>> {
  return typeof value === 'object' && value !== null && !Array.isArray(value)
    ? Object.fromEntries(Object.entries(value))
    : {};
}
