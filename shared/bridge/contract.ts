/**
 * The bridge: every call the renderer may make, once; what it is told without asking stands in `push.ts`. Preload, loopback server, services
 * and renderer take their types from this table; a service without a handler does not compile.
 */

import { z } from '../schema.ts';
import { hostNoticeSchema, unreadSchema } from './notice.ts';
import {
  heatSchema,
  heatWishSchema,
  ladderSchema,
  practiceDetailSchema,
  practiceNameSchema,
  practicesSchema,
  sessionSchema,
  sessionWishSchema,
} from './progress-shapes.ts';
import type { Push } from './push.ts';
import type { Refusal } from './refusal.ts';
import {
  chartRowSchema,
  chartText,
  chartTitle,
  deviceSchema,
  importResultSchema,
  journalMs,
  journalTakeSchema,
  libraryStateSchema,
  melodySchema,
  sessionRemarkSchema,
  settingsSchema,
  tagsSchema,
  takeBreaksSchema,
  takeDecisionSchema,
  takeEventSchema,
  takeRecordSchema,
  takeRowSchema,
  takeSetUpSchema,
  takeSourcesSchema,
  timeMs,
} from './shapes.ts';

const id = z.string().min(1).max(64);
const none = z.strictObject({});
const done = z.strictObject({});
const setAside = z.strictObject({ folder: z.string() });

function call<Request extends z.ZodType, Reply extends z.ZodType>(request: Request, reply: Reply) {
  return { request, reply };
}

export const CALLS = {
  'host.info': call(
    none,
    z.strictObject({
      host: z.enum(['electron', 'browser']),
      version: z.string(),
      /** Things a player should know about this run, such as a backup that could not be made. */
      notices: z.array(hostNoticeSchema).readonly(),
    }),
  ),
  /** How the library is. While it is damaged no call is answered but `library…`, `host.info` and the export. */
  'library.state': call(none, libraryStateSchema),
  /** Makes a backup now. */
  'library.backup': call(none, done),
  /** Puts a backup, or an empty library, in the place of a damaged one, which is set aside in a folder named so. */
  'library.restore': call(z.strictObject({ name: z.string().max(100) }), setAside),
  'library.beginNew': call(none, setAside),
  /** Writes the whole library, or what can be read of a damaged one, as an archive, to be fetched piece by piece. */
  'archive.export': call(
    none,
    z.strictObject({
      name: z.string(),
      bytes: z.int().min(0),
      charts: z.int().min(0),
      takes: z.int().min(0),
      unread: z.array(unreadSchema).readonly(),
    }),
  ),
  /** A piece of an exported archive; an empty one at its end. */
  'archive.read': call(
    z.strictObject({ name: z.string().max(100), from: z.int().min(0) }),
    z.strictObject({ base64: z.string() }),
  ),
  /** The archive was fetched and need not be kept for it. */
  'archive.release': call(z.strictObject({ name: z.string().max(100) }), done),
  /** Hands over a piece of an archive, at most 4 MiB; `from` is the size of those before. */
  'archive.put': call(
    z.strictObject({
      upload: z.string().max(64),
      from: z.int().min(0),
      base64: z.string().max(6_000_000),
    }),
    z.strictObject({ size: z.int().min(0) }),
  ),
  /** Merges an archive that was handed over into the library: all of it or nothing. */
  'archive.import': call(z.strictObject({ upload: z.string().max(64) }), importResultSchema),
  'charts.list': call(none, z.array(chartRowSchema).readonly()),
  /** Saves a chart text under an id; a null id makes a new chart. The text need not parse: it is the player's. */
  'charts.save': call(
    z.strictObject({
      chartId: id.nullable(),
      title: chartTitle,
      text: chartText,
    }),
    z.strictObject({ chartId: id }),
  ),
  /** Saves many new charts at once, with their melodies: an imported folder, in handfuls. */
  'charts.add': call(
    z.strictObject({
      charts: z
        .array(
          z.strictObject({
            title: chartTitle,
            text: chartText,
            melody: melodySchema.nullable().default(null),
          }),
        )
        .max(200)
        .readonly(),
    }),
    z.strictObject({ chartIds: z.array(id).readonly() }),
  ),
  /** Replaces the tags of a chart, also of one that comes with the program. */
  'charts.tag': call(z.strictObject({ chartId: id, tags: tagsSchema }), done),
  /** The melody kept beside a chart, or null. */
  'charts.melody': call(
    z.strictObject({ chartId: id }),
    z.strictObject({ melody: melodySchema.nullable() }),
  ),
  /** Puts a melody beside a chart, in the place of the one there; null takes it away. */
  'charts.saveMelody': call(z.strictObject({ chartId: id, melody: melodySchema.nullable() }), done),
  'charts.delete': call(z.strictObject({ chartId: id }), done),
  'charts.restore': call(z.strictObject({ chartId: id }), done),
  /**
   * Opens the journal of a take; what is appended is on disk when the call returns. One take is played at a time: `busy` while
   * another page plays one.
   */
  'takes.begin': call(
    z.strictObject({ setUp: takeSetUpSchema, sources: takeSourcesSchema }),
    z.strictObject({ takeId: id }),
  ),
  /**
   * `from` is the number of events appended before: a repeated call is recognised and written once. `sources` and `breaks`
   * are all there have been so far, and take the place of those before. A take that the host finished because its page was gone
   * goes on with what its page still has of it.
   */
  'takes.append': call(
    z.strictObject({
      takeId: id,
      from: z.int().min(0),
      events: z.array(takeEventSchema).max(10_000).readonly(),
      sources: takeSourcesSchema,
      breaks: takeBreaksSchema,
    }),
    z.strictObject({ stored: z.int().min(0) }),
  ),
  /** The host makes the figures of what is stored. A take without a note is not kept. */
  'takes.finish': call(
    z.strictObject({ takeId: id, endMs: timeMs }),
    z.strictObject({ kept: z.boolean() }),
  ),
  /** The take that is being played, on whichever page; null: none. */
  'takes.open': call(
    none,
    z.strictObject({
      take: z
        .strictObject({
          takeId: id,
          chartId: id,
          chartTitle: z.string(),
          /** ms since 1970. */
          startedAtMs: z.number(),
          /** Whether it is played on the page that asks. */
          isOwn: z.boolean(),
        })
        .nullable(),
    }),
  ),
  /** Saves a whole take at once: an opened MIDI file. One without a note is refused. */
  'takes.add': call(
    z.strictObject({
      setUp: takeSetUpSchema,
      events: z.array(takeEventSchema).max(2_000_000).readonly(),
      sources: takeSourcesSchema,
      breaks: takeBreaksSchema,
      endMs: timeMs,
      startedAtMs: journalMs.nullable(),
      /** What was said to another reading of it before; null: nothing yet. */
      decision: takeDecisionSchema.nullable(),
    }),
    z.strictObject({ takeId: id }),
  ),
  'takes.list': call(
    z.strictObject({ chartId: id.nullable(), limit: z.int().min(1).max(10_000) }),
    z.array(takeRowSchema).readonly(),
  ),
  'takes.get': call(z.strictObject({ takeId: id }), takeRecordSchema),
  /** What the player answers to the first reading of a take; null: undecided again. */
  'takes.decide': call(
    z.strictObject({ takeId: id, decision: takeDecisionSchema.nullable() }),
    done,
  ),
  'takes.note': call(z.strictObject({ takeId: id, note: z.string().max(10_000) }), done),
  'takes.delete': call(z.strictObject({ takeId: id }), done),
  'takes.restore': call(z.strictObject({ takeId: id }), done),
  /** The short facts of the takes begun in a span of time, the end not counted; and on which day the last of all did. */
  'journal.takes': call(
    z.strictObject({ fromMs: journalMs, toMs: journalMs }),
    z.strictObject({
      takes: z.array(journalTakeSchema).readonly(),
      lastDay: z.int().nullable(),
    }),
  ),
  /** The remarks on sessions, oldest first, each with its day. */
  'journal.remarks': call(none, z.array(sessionRemarkSchema.extend({ day: z.int() })).readonly()),
  /** Replaces the remark of a moment; an empty text takes it away. */
  'journal.remark': call(sessionRemarkSchema, done),
  /** So many practices in short, or all (null). */
  'progress.practices': call(z.strictObject({ most: z.int().min(1).nullable() }), practicesSchema),
  'progress.practice': call(z.strictObject({ practice: practiceNameSchema }), practiceDetailSchema),
  /** Proposes what to play today. */
  'progress.session': call(sessionWishSchema, sessionSchema),
  'progress.ladder': call(z.strictObject({ chartId: id }), ladderSchema),
  'progress.heat': call(heatWishSchema, heatSchema),
  'settings.get': call(none, settingsSchema),
  /** Replaces the values of the names given, keeps the others. */
  'settings.set': call(z.strictObject({ values: settingsSchema }), done),
  'devices.list': call(none, z.array(deviceSchema).readonly()),
  'devices.save': call(z.strictObject({ device: deviceSchema }), done),
  /** Demo takes that come with the program: file bytes in base64 and what they were played on. */
  'demos.list': call(
    none,
    z
      .array(
        z.strictObject({
          file: z.string(),
          chartFile: z.string(),
          plan: z.string(),
          level: z.string(),
          tempo: z.number(),
          split: z.number().nullable(),
          about: z.string(),
        }),
      )
      .readonly(),
  ),
  'demos.get': call(
    z.strictObject({ file: z.string().max(200) }),
    z.strictObject({ base64: z.string(), chartId: id }),
  ),
} as const;

export type CallName = keyof typeof CALLS;
export type CallRequest<Name extends CallName> = z.infer<(typeof CALLS)[Name]['request']>;
export type CallReply<Name extends CallName> = z.infer<(typeof CALLS)[Name]['reply']>;

/** What comes back over either transport. */
export type Reply<Name extends CallName> =
  | { readonly ok: true; readonly value: CallReply<Name> }
  | { readonly ok: false; readonly refusal: Refusal };

/** How the page reaches its host. */
export type Connection =
  | 'connected'
  /** It is there and has not answered for a while. */
  | 'hung'
  /** Nobody is there. It is looked for until it is back. */
  | 'gone'
  /** It is there and does not know this browser: another start, or another program's port by now. */
  | 'unknown';

/** The renderer's side of the bridge, the same in both hosts. */
export interface Bridge {
  ask<Name extends CallName>(name: Name, request: CallRequest<Name>): Promise<Reply<Name>>;
  /** Calls back for each push until the signal is aborted. */
  onPush(listener: (push: Push) => void, signal: AbortSignal): void;
  /** Tells the connection now and whenever it becomes another one, until the signal is aborted. */
  onConnection(listener: (connection: Connection) => void, signal: AbortSignal): void;
}
