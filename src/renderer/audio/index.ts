/** Sound: scores that say what is heard when, and the transport that makes it heard. */

export { BASS_PARTS, type BassPart, chordScore } from './chord-score.ts';
export {
  type ClickSettings,
  clickScore,
  isSilentBar,
  lengthMs,
  type SilentBars,
} from './click-score.ts';
export { lineScore } from './line-score.ts';
export { paletteScore } from './palette-score.ts';
export { cutPassage, type Passage } from './passage.ts';
export type { MidiSink, Performance, StageSettings } from './performance.ts';
export { pianoSoon } from './piano.ts';
export { mergeScores, type SoundEvent, type Volumes } from './sound-event.ts';
export type { SoundedKeys } from './sounded-keys.ts';
export { isStopped } from './stopped.ts';
export { takeScore } from './take-score.ts';
export { createTransport, type Transport } from './transport.ts';
