/**
 * An audio context for tests without a browser: on the clock of `performance.now()`, so that a test's own timers move it. It
 * keeps what was started and when, and can be made to stand still, to be suspended, to be late and to refuse.
 */

interface FakeParam {
  value: number;
  setValueAtTime(value: number, at: number): void;
  linearRampToValueAtTime(value: number, at: number): void;
  exponentialRampToValueAtTime(value: number, at: number): void;
  setTargetAtTime(value: number, at: number, constant: number): void;
  cancelAndHoldAtTime(at: number): void;
}

/** Keeps the last value it is set or ramped to, at once; what it falls to by and by is not told. */
function fakeParam(initial: number): FakeParam {
  const become = (value: number): void => {
    param.value = value;
  };
  const param: FakeParam = {
    value: initial,
    setValueAtTime: become,
    linearRampToValueAtTime: become,
    exponentialRampToValueAtTime: become,
    setTargetAtTime: () => {},
    cancelAndHoldAtTime: () => {},
  };
  return param;
}

class FakeNode {
  readonly gain = fakeParam(1);
  readonly frequency = fakeParam(440);
  readonly playbackRate = fakeParam(1);
  readonly context: FakeAudioContext;
  buffer: { readonly duration: number } | null = null;
  fromS: number | null = null;
  toS = Number.POSITIVE_INFINITY;
  outputs: FakeNode[] = [];

  constructor(context: FakeAudioContext) {
    this.context = context;
  }
  connect(to: FakeNode): FakeNode {
    this.outputs.push(to);
    return to;
  }
  disconnect(): void {
    this.outputs = [];
  }
  setPeriodicWave(): void {}
  start(at: number): void {
    this.fromS = at;
    if (this.buffer !== null) this.toS = at + this.buffer.duration;
  }
  stop(at: number): void {
    this.toS = Math.min(this.toS, at);
  }
}

export interface FakeAudioSettings {
  /** What the system says its sound is late by. */
  outputLatencyMs: number;
  /** Whether the browser tells the time of output. */
  tellsOutput: boolean;
  /** Whether a context runs when it is asked to. */
  mayRun: boolean;
  /** Between asking and running. */
  wakesAfterMs: number;
}

const opened: FakeAudioContext[] = [];

export const fakeAudio = {
  settings: {} as FakeAudioSettings,
  /** Forgets all contexts, and makes the system an ordinary one again. */
  reset(): void {
    opened.length = 0;
    fakeAudio.settings = { outputLatencyMs: 20, tellsOutput: true, mayRun: true, wakesAfterMs: 15 };
  },
  contexts: (): readonly FakeAudioContext[] => opened,
  /** Times at which what was started is heard, on the clock of the context; only what reaches the output. */
  heard: (): readonly number[] =>
    opened.flatMap(({ sources }) => sources.filter(reaches).flatMap(({ fromS }) => fromS ?? [])),
  /** Whether anything sounds now, or would if time went on. */
  isSilent: (): boolean =>
    opened.every(({ sources, currentTime }) =>
      sources.every((source) => source.toS <= currentTime || !reaches(source)),
    ),
};

function reaches(node: FakeNode): boolean {
  if (node === node.context.destination) return true;
  return node.gain.value > 1e-3 && node.outputs.some(reaches);
}

export class FakeAudioContext extends EventTarget {
  readonly sampleRate = 48_000;
  readonly baseLatency = 0.01;
  readonly destination: FakeNode;
  readonly sources: FakeNode[] = [];
  state: AudioContextState = 'suspended';
  #ranMs = 0;
  #sinceMs: number | null = null;
  /** What was told of the output last: what stands still tells it again. */
  #told = { contextTime: 0, performanceTime: 0 };

  constructor() {
    super();
    this.destination = new FakeNode(this);
    opened.push(this);
  }

  get currentTime(): number {
    const runMs = this.#sinceMs === null ? 0 : performance.now() - this.#sinceMs;
    return (this.#ranMs + runMs) / 1000;
  }
  get outputLatency(): number {
    return fakeAudio.settings.outputLatencyMs / 1000;
  }
  getOutputTimestamp(): { contextTime: number; performanceTime: number } {
    const contextTime = this.currentTime - this.outputLatency;
    if (!fakeAudio.settings.tellsOutput || contextTime <= 0) {
      return { contextTime: 0, performanceTime: 0 };
    }
    if (this.#sinceMs !== null) this.#told = { contextTime, performanceTime: performance.now() };
    return this.#told;
  }

  async resume(): Promise<void> {
    if (this.state === 'running') return;
    await new Promise((resolve) => setTimeout(resolve, fakeAudio.settings.wakesAfterMs));
    if (!fakeAudio.settings.mayRun || this.state !== 'suspended') return;
    this.#sinceMs = performance.now();
    this.#enter('running');
  }
  async suspend(): Promise<void> {
    this.stall();
    this.#enter('suspended');
  }
  async close(): Promise<void> {
    this.stall();
    this.#enter('closed');
  }
  /** The device stands still, and nobody says so. */
  stall(): void {
    this.#ranMs = this.currentTime * 1000;
    this.#sinceMs = null;
  }
  goOn(): void {
    this.#sinceMs = performance.now();
  }
  #enter(state: AudioContextState): void {
    if (state === this.state) return;
    this.state = state;
    this.dispatchEvent(new Event('statechange'));
  }

  #source(): FakeNode {
    const node = new FakeNode(this);
    this.sources.push(node);
    return node;
  }
  createGain = (): FakeNode => new FakeNode(this);
  createOscillator = (): FakeNode => this.#source();
  createBufferSource = (): FakeNode => this.#source();
  createPeriodicWave = (): object => ({});
  createBuffer = (_channels: number, length: number, rate: number): object => ({
    duration: length / rate,
    copyToChannel: () => {},
  });
}
