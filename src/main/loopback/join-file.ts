/** The file by which a second start finds the running host. Only this user may read it. */

import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { z } from 'zod';

const joinSchema = z.object({ port: z.int(), secret: z.string() });
export type JoinFile = z.infer<typeof joinSchema>;

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

/** Asks the running host for an address; null when none answers, as when the desktop program has the folder. */
export async function joinRunningHost(
  dataFolder: string,
  mostLooks = LOOKS,
): Promise<string | null> {
  for (let looks = 0; looks < mostLooks; looks++) {
    const url = await askForAddress(pathOf(dataFolder));
    if (url !== null) return url;
    await wait(LOOK_EVERY_MS);
  }
  return null;
}

async function askForAddress(path: string): Promise<string | null> {
  try {
    const { port, secret } = joinSchema.parse(JSON.parse(readFileSync(path, 'utf8')));
    const response = await fetch(`http://127.0.0.1:${port}/join`, {
      method: 'POST',
      headers: { 'x-linekeeper-join': secret },
      signal: AbortSignal.timeout(2000),
    });
    const { url } = z.object({ url: z.string() }).parse(await response.json());
    // Whoever has the port of a host that was killed may answer anything, and what it answers is opened.
    return url.startsWith(`http://127.0.0.1:${port}/open?token=`) && /^[\w:/.?=-]+$/u.test(url)
      ? url
      : null;
  } catch {
    return null;
  }
}
