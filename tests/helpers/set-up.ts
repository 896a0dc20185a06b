/** A take's set-up for tests of the store and the hosts. */

import type { TakeSetUp } from '../../shared/bridge/index.ts';
import { completeSettings } from '../../src/core/grading/index.ts';

/** Stepwise at 60 over one bar. */
export function setUpFor(chartId = 'pier'): TakeSetUp {
  return {
    chartId,
    chartTitle: 'Pier',
    chartText: 'title: Pier\nkey: C\nmeter: 4/4\n| Cmaj7 |\n',
    plan: 'plain',
    key: 'C',
    bars: null,
    grade: completeSettings({ level: 'steps', tempo: { kind: 'steady', tempoBpm: 60 } }),
    deviceName: null,
    model: null,
  };
}
