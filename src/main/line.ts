#!/usr/bin/env node
/** `npm run --silent line -- FILE.chart …`: writes an example line. */

import { printLine } from './print-line.ts';

printLine(process.argv.slice(2));
