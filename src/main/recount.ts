#!/usr/bin/env node
/** `npm run --silent recount`: counts every take of the library again, from its notes. */

import { recountTakes } from './recount-takes.ts';

recountTakes(process.argv.slice(2));
