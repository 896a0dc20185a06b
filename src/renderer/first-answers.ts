/** The bridge of the page, and the first questions put to the host. `main.tsx` imports this before all that takes its time to start. */

import { connectBridge } from './bridge/index.ts';
import { askFirst, createAnswers } from './data/answers.ts';

export const bridge = connectBridge();
export const answers = createAnswers(bridge);
export const answered = askFirst(answers);
