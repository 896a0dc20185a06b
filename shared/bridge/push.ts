/**
 * What a host tells a page, and how that comes over a socket. Apart from the calls: a page reads pushes as soon as it
 * starts, and has no use for their schemas.
 */

import { COMMAND_NAMES } from '../commands.ts';
import { z } from '../schema.ts';

const changedSchema = z.enum([
  'charts',
  'takes',
  'journal',
  'settings',
  'devices',
  'library',
  'host',
]);
/** All that a host tells the changes of. */
export const CHANGING = changedSchema.options;
export type Changing = z.infer<typeof changedSchema>;

/** What the host tells without being asked, to every window. */
export const pushSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('changed'), what: changedSchema }),
  /** A menu item of the desktop host. */
  z.strictObject({ kind: z.literal('command'), name: z.enum(COMMAND_NAMES) }),
  /** A file handed to the program by the desktop: dropped on the icon, or opened from the file manager. */
  z.strictObject({ kind: z.literal('file'), name: z.string(), base64: z.string() }),
  /** The program was started again: the page that is open is to be found by the player. */
  z.strictObject({ kind: z.literal('front') }),
]);
export type Push = z.infer<typeof pushSchema>;

/** What the browser host sends. An answer was checked against its call before it was sent. */
export const hostMessageSchema = z.discriminatedUnion('kind', [
  z.strictObject({ kind: z.literal('answer'), id: z.int(), answer: z.unknown() }),
  z.strictObject({ kind: z.literal('push'), push: pushSchema }),
  z.strictObject({ kind: z.literal('pong') }),
]);
export type HostMessage = z.infer<typeof hostMessageSchema>;
