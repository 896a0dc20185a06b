/** The built renderer as a fixed set of files: what is not in it when the host starts is never served. */

import { readdirSync, readFileSync, realpathSync } from 'node:fs';
import { extname, join, relative } from 'node:path';

export interface StaticFile {
  readonly type: string;
  readonly bytes: Buffer;
}

const TYPES = new Map([
  ['.html', 'text/html; charset=utf-8'],
  ['.js', 'text/javascript; charset=utf-8'],
  ['.css', 'text/css; charset=utf-8'],
  ['.json', 'application/json'],
  ['.svg', 'image/svg+xml'],
  ['.png', 'image/png'],
  ['.woff2', 'font/woff2'],
  ['.mp3', 'audio/mpeg'],
  ['.ogg', 'audio/ogg'],
]);

/** Files by their path in the URL; `/` is `index.html`. What is only linked to from the folder is not in it. */
export function readStaticFiles(folder: string): ReadonlyMap<string, StaticFile> {
  const files = new Map<string, StaticFile>();
  const realFolder = realpathSync(folder);
  const isOwn = (path: string): boolean =>
    realpathSync(path) === join(realFolder, relative(folder, path));
  // Folder by folder: of the ways to read one, this is the plainest that Electron's archive answers too.
  function read(within: string, address: string): void {
    for (const entry of readdirSync(within, { withFileTypes: true })) {
      const path = join(within, entry.name);
      const name = `${address}/${entry.name}`;
      const type = TYPES.get(extname(entry.name));
      if (entry.isDirectory()) read(path, name);
      else if (entry.isFile() && type !== undefined && isOwn(path)) {
        files.set(name, { type, bytes: readFileSync(path) });
      }
    }
  }
  read(folder, '');
  const index = files.get('/index.html');
  if (index !== undefined) files.set('/', index);
  return files;
}
