/** In a process of its own: one question to a library, the first after a start. Prints the milliseconds. */

import { ask, openServices, questionsOn } from './progress-questions.ts';

const [file = '', folder = '', chartId = '', name = '', nowMs = '0'] = process.argv.slice(2);
const question = questionsOn(chartId).find(([own]) => own === name);
if (question === undefined) throw new Error(`no question ${name}`);
const [, call, request] = question;
const opened = openServices(file, folder, Number(nowMs));
process.stdout.write(String(await ask(opened, call, request)));
process.exit(0);
