/**
 * A sampled grand piano: read when it is first wanted, then shared by every context. Until it is there, and where it
 * cannot be had, the line sounds with a voice of our own. The recordings are Alexander Holm's (CC BY 3.0).
 */

/** A recording every minor third, A1 to C7; what lies beyond is stretched from the last one. */
const LOWEST = 33;
const HIGHEST = 96;
const APART = 3;
/** A recording rings for up to twenty seconds; a line never does. */
const KEPT_SECONDS = 4;
const FADE_SECONDS = 0.5;
/** The string is struck where a recording first reaches this share of its peak. */
const STRUCK_SHARE = 0.02;
/** The part of a note by which its loudness is judged, and the loudness all keys are given (root mean square). */
const HEARD_SECONDS = 0.3;
const LOUDNESS = 0.16;
const RATE = 44_100;

const kept = new Map<number, AudioBuffer>();
let loading: Promise<void> | null = null;

export interface PianoSample {
  readonly buffer: AudioBuffer;
  /** What it is to be played at to sound the key. */
  readonly playbackRate: number;
}

/** Reads the recordings, once. Never rejects. */
export function loadPiano(): Promise<void> {
  loading ??= Promise.all(recordedKeys().map(loadKey)).then(() => {});
  return loading;
}

/** Longer is not worth waiting for: then our own voice sounds. */
const PATIENCE_MS = 1500;

/** Waits for the piano, not for long: what of it has come by then sounds. */
export async function pianoSoon(): Promise<void> {
  await Promise.race([loadPiano(), new Promise((resolve) => setTimeout(resolve, PATIENCE_MS))]);
}

/** The recording nearest to a key; null while it is not there. */
export function pianoSample(midi: number): PianoSample | null {
  const nearest = LOWEST + APART * Math.round((midi - LOWEST) / APART);
  const recorded = Math.min(HIGHEST, Math.max(LOWEST, nearest));
  const buffer = kept.get(recorded);
  return buffer === undefined ? null : { buffer, playbackRate: 2 ** ((midi - recorded) / 12) };
}

/** From the middle of the keyboard outwards, so that a line is soon complete. */
function recordedKeys(): readonly number[] {
  const keys = Array.from(
    { length: (HIGHEST - LOWEST) / APART + 1 },
    (_, index) => LOWEST + APART * index,
  );
  return keys.sort((one, other) => Math.abs(one - MIDDLE) - Math.abs(other - MIDDLE));
}
const MIDDLE = 69;

async function loadKey(midi: number): Promise<void> {
  try {
    const response = await fetch(`piano/${midi}.ogg`);
    if (!response.ok) return;
    const decoder = new OfflineAudioContext(1, 1, RATE);
    kept.set(midi, shortened(await decoder.decodeAudioData(await response.arrayBuffer())));
  } catch {
    // Without this recording our own voice sounds the key.
  }
}

/**
 * The beginning of a recording on one channel, a twentieth of the memory: from where the string is struck, so that a
 * note is heard when it is laid; as loud as the other keys; faded out.
 */
function shortened(whole: AudioBuffer): AudioBuffer {
  const mixed = mixDown(whole);
  const peak = mixed.reduce((most, value) => Math.max(most, Math.abs(value)), 0);
  const struck = mixed.findIndex((value) => Math.abs(value) > STRUCK_SHARE * peak);
  const kept = mixed.subarray(struck, struck + Math.round(KEPT_SECONDS * whole.sampleRate));
  const heard = kept.subarray(0, Math.round(HEARD_SECONDS * whole.sampleRate));
  const loudness = Math.sqrt(heard.reduce((sum, value) => sum + value * value, 0) / heard.length);
  const fade = Math.round(FADE_SECONDS * whole.sampleRate);
  const shaped = kept.map(
    (value, at) => ((value * LOUDNESS) / loudness) * Math.min(1, (kept.length - at) / fade),
  );
  const short = new AudioBuffer({
    length: shaped.length,
    numberOfChannels: 1,
    sampleRate: whole.sampleRate,
  });
  short.copyToChannel(shaped, 0);
  return short;
}

function mixDown(whole: AudioBuffer): Float32Array<ArrayBuffer> {
  const mixed = new Float32Array(whole.length);
  for (let channel = 0; channel < whole.numberOfChannels; channel++) {
    whole.getChannelData(channel).forEach((value, at) => {
      mixed[at] = (mixed[at] ?? 0) + value / whole.numberOfChannels;
    });
  }
  return mixed;
}
