/** The browser host as a whole: library, services and loopback server over one data folder. */

import { randomBytes, randomUUID } from 'node:crypto';
import { mkdirSync } from 'node:fs';
import { join } from 'node:path';
import type { Push } from '../../shared/bridge/index.ts';
import { claimJoinFile, joinRunningHost, removeJoinFile } from './loopback/join-file.ts';
import { type LoopbackHost, startLoopback } from './loopback/server.ts';
import { createServices, readShipped } from './services/index.ts';
import { createLibrary, createTakeStore, openLibrary } from './store/index.ts';

export interface BrowserHostSettings {
  readonly dataFolder: string;
  readonly sharedFolder: string;
  readonly rendererFolder: string;
  readonly version: string;
}

export type StartedHost =
  /** Another start is running; this is an address of its own. */
  | { readonly kind: 'joined'; readonly url: string }
  | { readonly kind: 'started'; readonly url: string; close(): Promise<void> };

/** Starts the host, or joins the one that runs on this data folder. Throws a `StoreError` for a library it cannot use. */
export async function startBrowserHost(settings: BrowserHostSettings): Promise<StartedHost> {
  mkdirSync(settings.dataFolder, { recursive: true });
  const joinPath = join(settings.dataFolder, 'running.json');
  const running = await joinRunningHost(joinPath);
  if (running !== null) return { kind: 'joined', url: running };

  const database = openLibrary(join(settings.dataFolder, 'library.sqlite'));
  const secret = randomBytes(32).toString('base64url');
  let host: LoopbackHost | null = null;
  const services = createServices({
    library: createLibrary(database),
    takes: createTakeStore(database, randomUUID()),
    shipped: readShipped(settings.sharedFolder),
    host: 'browser',
    version: settings.version,
    nowMs: Date.now,
    push: (push: Push) => host?.push(push),
  });
  host = await startLoopback({
    rendererFolder: settings.rendererFolder,
    joinSecret: secret,
    services,
  });
  const started = host;
  if (!claimJoinFile(joinPath, { port: started.port, secret })) {
    const other = await joinRunningHost(joinPath);
    if (other !== null) {
      await started.close();
      database.close();
      return { kind: 'joined', url: other };
    }
    // Nobody answers at the address in the file: it is what a killed host left behind.
    removeJoinFile(joinPath);
    claimJoinFile(joinPath, { port: started.port, secret });
  }
  return {
    kind: 'started',
    url: started.openUrl(),
    async close() {
      removeJoinFile(joinPath);
      await started.close();
      database.close();
    },
  };
}
