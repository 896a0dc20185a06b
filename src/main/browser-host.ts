/** The browser host as a whole: library, services and loopback server over one data folder. */

import { randomBytes } from 'node:crypto';
import type { Push } from '../../shared/bridge/index.ts';
import { joinRunningHost, removeJoinFile, writeJoinFile } from './loopback/join-file.ts';
import { type LoopbackHost, startLoopback } from './loopback/server.ts';
import { openProgram } from './open-program.ts';
import { refusal, StoreError } from './store/index.ts';

export interface BrowserHostSettings {
  readonly dataFolder: string;
  readonly sharedFolder: string;
  readonly rendererFolder: string;
  readonly version: string;
  /** How long a request may take to arrive whole, in ms; 15 s when not given. */
  readonly slowestRequestMs?: number;
}

export type StartedHost =
  /** Another start is running; this is an address of its own. */
  | { readonly kind: 'joined'; readonly url: string }
  | { readonly kind: 'started'; readonly url: string; close(): Promise<void> };

/**
 * Starts the host, or joins the one that runs on this data folder. Throws a `StoreError` for a library it cannot use,
 * or one that the desktop program has open.
 */
export async function startBrowserHost(settings: BrowserHostSettings): Promise<StartedHost> {
  const { dataFolder } = settings;
  let loopback: LoopbackHost | null = null;
  const program = openProgram({
    ...settings,
    host: 'browser',
    push: (push: Push) => loopback?.push(push),
  });
  if (program === null) {
    const url = await joinRunningHost(dataFolder);
    if (url !== null) return { kind: 'joined', url };
    throw new StoreError(
      refusal('notAllowed', 'Linekeeper is open already, in its own window.', 'Use it there.'),
    );
  }
  try {
    const secret = randomBytes(32).toString('base64url');
    const started = await startLoopback({
      ...settings,
      joinSecret: secret,
      services: program.services,
    });
    loopback = started;
    writeJoinFile(dataFolder, { port: started.port, secret });
    return {
      kind: 'started',
      url: started.openUrl(),
      async close() {
        removeJoinFile(dataFolder);
        await started.close();
        await program.close();
      },
    };
  } catch (error) {
    await program.close();
    throw error;
  }
}
