/** The built renderer as a fixed set of files: what is not in it when the host starts is never served. */

import { readdirSync, readFileSync, realpathSync } from 'node:fs';
import { extname, join, relative, sep } from 'node:path';

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
  for (const entry of readdirSync(folder, { recursive: true, withFileTypes: true })) {
    const type = TYPES.get(extname(entry.name));
    if (!entry.isFile() || type === undefined) continue;
    const path = join(entry.parentPath, entry.name);
    if (realpathSync(path) !== join(realpathSync(folder), relative(folder, path))) continue;
    const name = `/${relative(folder, path).split(sep).join('/')}`;
    files.set(name, { type, bytes: readFileSync(path) });
  }
  const index = files.get('/index.html');
  if (index !== undefined) files.set('/', index);
  return files;
}
