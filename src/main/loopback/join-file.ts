/** The file by which a second start finds the running host. Only this user may read it. */

import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { z } from 'zod';

const joinSchema = z.object({ port: z.int(), secret: z.string() });
export type JoinFile = z.infer<typeof joinSchema>;

/** Writes the file, or answers false when there is one already. */
export function claimJoinFile(path: string, join: JoinFile): boolean {
  try {
    writeFileSync(path, JSON.stringify(join), { flag: 'wx', mode: 0o600 });
    return true;
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'EEXIST') return false;
    throw error;
  }
}

export function removeJoinFile(path: string): void {
  rmSync(path, { force: true });
}

/** Asks the running host for an address; null when the file is stale and nobody answers. */
export async function joinRunningHost(path: string): Promise<string | null> {
  try {
    const { port, secret } = joinSchema.parse(JSON.parse(readFileSync(path, 'utf8')));
    const response = await fetch(`http://127.0.0.1:${port}/join`, {
      method: 'POST',
      headers: { 'x-linekeeper-join': secret },
      signal: AbortSignal.timeout(2000),
    });
    return z.object({ url: z.string() }).parse(await response.json()).url;
  } catch {
    return null;
  }
}
