#!/usr/bin/env node
/** `npm run --silent grade -- TAKE.mid … --chart FILE …`: grades takes. Options and formats stand in `grading.md`. */

import { gradeTakes } from './grade-takes.ts';

gradeTakes(process.argv.slice(2));
