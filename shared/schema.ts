/**
 * The schema library as every schema of ours gets it. A page's policy forbids code made of text, which the library
 * would try for speed as soon as a schema is made; so it is told not to before any is. On the Node side it may.
 */

import { z } from 'zod';

if ('document' in globalThis) z.config({ jitless: true });

export { z };
