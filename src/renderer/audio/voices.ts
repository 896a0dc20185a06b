/** Makes sounds audible on an audio context, live or offline. The line is a piano's; click, bass and pad are our own. */

import { knock } from './knock.ts';
import { type PianoSample, pianoSample } from './piano.ts';
import type { ClickStrength, SoundEvent, Volumes } from './sound-event.ts';

export interface Voices {
  /** Lays a sound on the context's clock. */
  lay(event: SoundEvent, atSeconds: number): void;
  /** Sounds a key of the line now; what it answers lets it go. */
  hold(midi: number, velocity: number): () => void;
}

type Tone = Exclude<SoundEvent, { kind: 'click' }>;

interface ToneShape {
  /** Loudness of the partials, the first is the fundamental. */
  readonly partials: readonly number[];
  readonly gain: number;
  readonly attackS: number;
  /** Seconds in which a held tone falls to a tenth; null: it does not fall. */
  readonly fallS: number | null;
  readonly releaseS: number;
}

const SHAPES: Readonly<Record<Tone['kind'], ToneShape>> = {
  bass: { partials: [1, 0.55, 0.22, 0.08], gain: 0.5, attackS: 0.006, fallS: 2.2, releaseS: 0.05 },
  pad: { partials: [1, 0.32, 0.14, 0.05], gain: 0.12, attackS: 0.09, fallS: null, releaseS: 0.22 },
  note: {
    partials: [1, 0.5, 0.3, 0.16, 0.09, 0.05],
    gain: 0.34,
    attackS: 0.003,
    fallS: 1.3,
    releaseS: 0.09,
  },
};

/** The recording falls by itself; it is as loud as our own voice. */
const PIANO: ToneShape = { partials: [], gain: 1, attackS: 0.002, fallS: null, releaseS: 0.12 };

interface Source {
  readonly node: AudioScheduledSourceNode;
  readonly shape: ToneShape;
}

function sampleSource(context: BaseAudioContext, { buffer, playbackRate }: PianoSample): Source {
  const node = context.createBufferSource();
  node.buffer = buffer;
  node.playbackRate.value = playbackRate;
  return { node, shape: PIANO };
}

/** Frequency of a MIDI note, A4 = 69 = 440 Hz. Source: MIDI Manufacturers Association, MIDI Tuning (updated), p. 1–2. */
export function hertz(midi: number): number {
  return 440 * 2 ** ((midi - 69) / 12);
}

/** The voices of a context, each part at its volume, heard where they are sent. */
export function createVoices(
  context: BaseAudioContext,
  volumes: Volumes,
  destination: AudioNode,
): Voices {
  const partGain = (volume: number): GainNode => {
    const gain = context.createGain();
    gain.gain.value = volume;
    gain.connect(destination);
    return gain;
  };
  const parts = {
    click: partGain(volumes.click),
    bass: partGain(volumes.bass),
    pad: partGain(volumes.pad),
    note: partGain(volumes.note),
  };
  const knocks = new Map<ClickStrength, AudioBuffer>();
  const waves = new Map<Tone['kind'], PeriodicWave>();

  function knockBuffer(strength: ClickStrength): AudioBuffer {
    const made = knocks.get(strength);
    if (made !== undefined) return made;
    const samples = knock(strength, context.sampleRate);
    const buffer = context.createBuffer(1, samples.length, context.sampleRate);
    buffer.copyToChannel(samples, 0);
    knocks.set(strength, buffer);
    return buffer;
  }

  function wave(kind: Tone['kind']): PeriodicWave {
    const made = waves.get(kind);
    if (made !== undefined) return made;
    const imag = Float32Array.from([0, ...SHAPES[kind].partials]);
    const fresh = context.createPeriodicWave(new Float32Array(imag.length), imag);
    waves.set(kind, fresh);
    return fresh;
  }

  function layTone(tone: Tone, at: number): void {
    const { node, shape } = sourceOf(tone.kind, tone.midi);
    const { gain, attackS, fallS, releaseS } = shape;
    const peak = (gain * tone.velocity) / 100;
    const end = at + Math.max(attackS, tone.durationMs / 1000);
    const envelope = context.createGain();
    envelope.gain.setValueAtTime(0, at);
    envelope.gain.linearRampToValueAtTime(peak, at + attackS);
    const fallTo = fallS === null ? peak : peak * 10 ** -((end - at - attackS) / fallS);
    envelope.gain.exponentialRampToValueAtTime(Math.max(fallTo, 1e-4), end);
    envelope.gain.linearRampToValueAtTime(0, end + releaseS);
    node.connect(envelope).connect(parts[tone.kind]);
    node.start(at);
    node.stop(end + releaseS);
  }

  /** What sounds a tone: a recording of the piano for a note of the line if there is one, else our own voice. */
  function sourceOf(kind: Tone['kind'], midi: number): Source {
    const sample = kind === 'note' ? pianoSample(midi) : null;
    if (sample !== null) return sampleSource(context, sample);
    const oscillator = context.createOscillator();
    oscillator.setPeriodicWave(wave(kind));
    oscillator.frequency.value = hertz(midi);
    return { node: oscillator, shape: SHAPES[kind] };
  }

  return {
    hold(midi, velocity) {
      const { node, shape } = sourceOf('note', midi);
      const { gain, attackS, fallS, releaseS } = shape;
      const now = context.currentTime;
      const envelope = context.createGain();
      envelope.gain.setValueAtTime(0, now);
      envelope.gain.linearRampToValueAtTime((gain * velocity) / 100, now + attackS);
      if (fallS !== null) envelope.gain.setTargetAtTime(0, now + attackS, fallS / Math.LN10);
      node.connect(envelope).connect(parts.note);
      node.start(now);
      return () => {
        envelope.gain.cancelAndHoldAtTime(context.currentTime);
        envelope.gain.linearRampToValueAtTime(0, context.currentTime + releaseS);
        node.stop(context.currentTime + releaseS);
      };
    },
    lay(event, atSeconds) {
      // On a whole sample, so that a click is heard where it was laid and nowhere near it.
      const at = Math.max(0, Math.round(atSeconds * context.sampleRate) / context.sampleRate);
      if (event.kind !== 'click') return layTone(event, at);
      const source = context.createBufferSource();
      source.buffer = knockBuffer(event.strength);
      source.connect(parts.click);
      source.start(at);
    },
  };
}
