/** The file by which a second start finds the running host. Only this user may read it. */

import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { z } from 'zod';

const joinSchema = z.object({ port: z.int(), secret: z.string() });
export type JoinFile = z.infer<typeof joinSchema>;

/** What a second start is answered. */
const answerSchema = z.object({
  /** Opens the page once. */
  url: z.string(),
  /** Whether a page was open and has been told to show itself. */
  isShown: z.boolean(),
});
export type JoinAnswer = z.infer<typeof answerSchema>;

/** How often and how long a second start looks for a first one that is just starting. */
const LOOK_EVERY_MS = 100;
const LOOKS = 30;

function pathOf(dataFolder: string): string {
  return join(dataFolder, 'running.json');
}

/** Writes the file, in place of what an earlier host left. Only the holder of the folder's lock may. */
export function writeJoinFile(dataFolder: string, file: JoinFile): void {
  removeJoinFile(dataFolder);
  writeFileSync(pathOf(dataFolder), JSON.stringify(file), { flag: 'wx', mode: 0o600 });
}

export function removeJoinFile(dataFolder: string): void {
  rmSync(pathOf(dataFolder), { force: true });
}

/**
 * Asks the running host for an address, and, with `show`, to show a page that is open; null when none answers, as when
 * the desktop program has the folder.
 */
export async function joinRunningHost(
  dataFolder: string,
  show: boolean,
  mostLooks = LOOKS,
): Promise<JoinAnswer | null> {
  for (let looks = 0; looks < mostLooks; looks++) {
    const joined = await askToJoin(pathOf(dataFolder), show);
    if (joined !== null) return joined;
    await wait(LOOK_EVERY_MS);
  }
  return null;
}

/** What a second start tells the player. */
export function joinWords({ url, isShown }: JoinAnswer): string {
  return isShown
    ? `Linekeeper is open already, in your browser: its tab says so. Should it be lost, open: ${url}`
    : `Linekeeper runs already. Open in a Chromium-based browser: ${url}`;
}

async function askToJoin(path: string, show: boolean): Promise<JoinAnswer | null> {
  try {
    const { port, secret } = joinSchema.parse(JSON.parse(readFileSync(path, 'utf8')));
    const response = await fetch(`http://127.0.0.1:${port}/join${show ? '?show' : ''}`, {
      method: 'POST',
      headers: { 'x-linekeeper-join': secret },
      signal: AbortSignal.timeout(2000),
    });
    const joined = answerSchema.parse(await response.json());
    // Whoever has the port of a host that was killed may answer anything, and what it answers is opened.
    const isOurs =
      joined.url.startsWith(`http://127.0.0.1:${port}/open?token=`) &&
      /^[\w:/.?=-]+$/u.test(joined.url);
    return isOurs ? joined : null;
  } catch {
    return null;
  }
}
