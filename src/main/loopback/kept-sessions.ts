/**
 * What a host leaves for the next one on the same data folder, so that a page which is open goes on after a restart: its
 * port, and which session cookies are good.
 *
 * Why that is safe: cookies are random and stand in the file as SHA-256 digests, so whoever reads it, from a copy of the
 * folder too, cannot make one of them; and the file is for this user alone, to whom the library beside it lies open
 * anyway. While no host runs, another program may take the port, and an open page that looks for its host there sends it
 * the cookie: so a host that finds its port taken forgets all sessions, and every page is opened anew.
 */

import { createHash } from 'node:crypto';
import { readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';

const keptSchema = z.object({
  port: z.int().min(1).max(65_535),
  /** Hexadecimal, the oldest first. */
  sessions: z.array(z.string().regex(/^[0-9a-f]{64}$/u)).readonly(),
});
export type KeptSessions = z.infer<typeof keptSchema>;

function pathOf(dataFolder: string): string {
  return join(dataFolder, 'browser-host.json');
}

/** What the last host left; null without one, or where it cannot be read: pages are then opened anew. */
export function readKeptSessions(dataFolder: string): KeptSessions | null {
  try {
    return keptSchema.parse(JSON.parse(readFileSync(pathOf(dataFolder), 'utf8')));
  } catch {
    return null;
  }
}

/** Keeps them in place of what was kept. Only the holder of the folder's lock may. Throws when it cannot be written. */
export function writeKeptSessions(dataFolder: string, kept: KeptSessions): void {
  const path = pathOf(dataFolder);
  const unfinished = `${path}.new`;
  // Made anew: a link planted under this name is not written through.
  rmSync(unfinished, { force: true });
  writeFileSync(unfinished, JSON.stringify(kept), { flag: 'wx', mode: 0o600 });
  renameSync(unfinished, path);
}

/** How a session stands in the file. */
export function digestOf(session: string): string {
  return createHash('sha256').update(session).digest('hex');
}
