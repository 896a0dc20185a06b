// Builds what is stale and starts the program: in the browser, as there is no desktop window yet.
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { buildWhenStale } from './build-when-stale.mjs';

buildWhenStale();
await import(pathToFileURL(join(import.meta.dirname, '..', 'src', 'main', 'serve.ts')).href);
