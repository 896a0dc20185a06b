/** Puts the first questions to the host. The page imports this before all else: it is answered while the rest starts. */

import { askAhead } from './bridge/ask-ahead.ts';
import { connectBridge } from './bridge/index.ts';

export const bridge = connectBridge();
export const answered = askAhead(bridge);
