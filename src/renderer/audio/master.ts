/** The one way out for all that sounds of one performance, or of the player's keys: shut, it is silent at once. */

export interface Master {
  readonly input: AudioNode;
  /** Fades within a blink, so that nothing clicks, and lets go of all that was laid ahead. */
  shut(): void;
}

const FADE_MS = 15;
const LET_GO_AFTER_MS = 60;

export function openMaster(context: AudioContext): Master {
  const gain = context.createGain();
  gain.connect(context.destination);
  return {
    input: gain,
    shut() {
      gain.gain.setValueAtTime(1, context.currentTime);
      gain.gain.linearRampToValueAtTime(0, context.currentTime + FADE_MS / 1000);
      setTimeout(() => gain.disconnect(), LET_GO_AFTER_MS);
    },
  };
}
