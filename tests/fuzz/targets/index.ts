import type { FuzzTarget } from '../target.ts';
import { archiveTarget } from './archive.ts';
import { bridgeTarget } from './bridge.ts';
import { chartEditsTarget } from './chart-edits.ts';
import { chartTextTarget } from './chart-text.ts';
import { eventCodecTarget } from './event-codec.ts';
import { handOverTarget } from './hand-over.ts';
import { musicXmlTarget, mxlTarget } from './musicxml.ts';
import { smfTarget } from './smf.ts';

/** Every reader that takes what somebody else wrote. */
export const TARGETS: readonly FuzzTarget[] = [
  smfTarget,
  musicXmlTarget,
  mxlTarget,
  chartTextTarget,
  chartEditsTarget,
  handOverTarget,
  bridgeTarget,
  archiveTarget,
  eventCodecTarget,
];
