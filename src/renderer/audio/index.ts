/** Sound: scores that say what is heard when, and the stage that makes it heard. */

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
export { pianoSoon } from './piano.ts';
export { mergeScores, type SoundEvent, type Volumes } from './sound-event.ts';
export { type SoundedKeys, soundKeys } from './sounded-keys.ts';
export {
  type MidiSink,
  type Performance,
  perform,
  type StageSettings,
  soundFailureWords,
} from './stage.ts';
export { takeScore } from './take-score.ts';
