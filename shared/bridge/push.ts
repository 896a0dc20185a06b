/** What a host tells a page. Apart from the calls: a page reads pushes as soon as it starts, and has no use for their schemas. */

import { z } from '../schema.ts';

/** What the host tells without being asked, to every window. */
export const pushSchema = z.discriminatedUnion('kind', [
  z.strictObject({
    kind: z.literal('changed'),
    what: z.enum(['charts', 'takes', 'journal', 'settings', 'devices', 'library', 'host']),
  }),
  /** A menu item of the desktop host; names are those of the renderer's command list. */
  z.strictObject({ kind: z.literal('command'), name: z.string().max(100) }),
  /** A file handed to the program by the desktop: dropped on the icon, or opened from the file manager. */
  z.strictObject({ kind: z.literal('file'), name: z.string(), base64: z.string() }),
]);
export type Push = z.infer<typeof pushSchema>;
