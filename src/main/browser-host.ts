/** The browser host as a whole: library, services and loopback server over one data folder. */

import { randomBytes } from 'node:crypto';
import type { Push } from '../../shared/bridge/index.ts';
import { joinRunningHost, removeJoinFile, writeJoinFile } from './loopback/join-file.ts';
import { readKeptSessions, writeKeptSessions } from './loopback/kept-sessions.ts';
import { type LoopbackHost, startLoopback } from './loopback/server.ts';
import { openProgram } from './open-program.ts';
import { plainRefusal, StoreError } from './store/index.ts';

export interface BrowserHostSettings {
  readonly dataFolder: string;
  readonly sharedFolder: string;
  readonly rendererFolder: string;
  readonly version: string;
  /** How long a request or a message may take to arrive whole, in ms; 15 s when not given. */
  readonly slowestRequestMs?: number;
  /** Whether a page that is open already is to be shown when another start runs; not when not given. */
  readonly show?: boolean;
}

export type StartedHost =
  /** Another start is running; this is an address of its own. A page that was open may have been shown instead. */
  | { readonly kind: 'joined'; readonly url: string; readonly isShown: boolean }
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
    const joined = await joinRunningHost(dataFolder, settings.show === true);
    if (joined !== null) return { kind: 'joined', ...joined };
    throw new StoreError(plainRefusal('notAllowed', 'openInOwnWindow'));
  }
  try {
    const secret = randomBytes(32).toString('base64url');
    const started = await startLoopback({
      ...settings,
      joinSecret: secret,
      ask: (name, request, page) => program.services(name, request, page),
      leave: (page) => program.leave(page),
      kept: readKeptSessions(dataFolder),
      keep(kept) {
        try {
          writeKeptSessions(dataFolder, kept);
        } catch {
          // Of a full disk the player is told where it matters; here a page may have to be opened anew after a restart.
        }
      },
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
