/**
 * A stand-in for the page's sound, on the clock of the page: nothing is heard, but what would sound, and when, is kept. Its
 * nodes are the browser's own, made by an offline context that never renders, so that what the browser refuses is refused.
 */

import type { BrowserContext, Page } from 'playwright';

/** A source that was started. Times are those of the page's `performance.now()`, at which it is heard. */
export interface StartedSound {
  /** A recording or a click, or a tone of an oscillator. */
  readonly kind: 'buffer' | 'tone';
  readonly frequencyHz: number | null;
  readonly durationMs: number | null;
  readonly fromMs: number;
  /** Infinity while nobody has said when it ends. */
  readonly toMs: number;
}

/** What the stand-in offers the tests, as `standIn` of the window. */
export interface StandIn {
  started(): StartedSound[];
  sounding(): StartedSound[];
  contexts(): string[];
  suspend(): void;
  resume(): void;
  withhold(): void;
}

/** Puts the stand-in in place of the browser's sound, on every page opened from here on; the clock must be installed before. */
export async function giveSoundStandIn(context: BrowserContext): Promise<void> {
  await context.addInitScript(installStandIn);
}

/** Everything that was started on the page, in the order in which it was. */
export function startedSounds(page: Page): Promise<readonly StartedSound[]> {
  return page.evaluate(() => (window as unknown as { standIn: StandIn }).standIn.started());
}

/** What sounds on the page at this moment of its clock. */
export function soundingNow(page: Page): Promise<readonly StartedSound[]> {
  return page.evaluate(() => (window as unknown as { standIn: StandIn }).standIn.sounding());
}

/** Stops the clock of the page's sound, as a system does that has something else to do; `resumeSound` lets it go on. */
export function suspendSound(page: Page): Promise<void> {
  return page.evaluate(() => (window as unknown as { standIn: StandIn }).standIn.suspend());
}

export function resumeSound(page: Page): Promise<void> {
  return page.evaluate(() => (window as unknown as { standIn: StandIn }).standIn.resume());
}

/** From the next load on sound is withheld until the page is touched, as browsers do. */
export async function withholdSound(context: BrowserContext): Promise<void> {
  await context.addInitScript(() => {
    (window as unknown as { standIn: StandIn }).standIn.withhold();
  });
}

/** Runs in the page, so it reaches nothing outside itself. */
function installStandIn(): void {
  /** What the system says its sound is late by. */
  const OUTPUT_LATENCY_MS = 20;
  /** An audio device takes a moment to wake. */
  const WAKES_AFTER_MS = 15;
  /** Softer than this nothing is heard. */
  const SILENCE = 1e-3;
  const RATE = 48_000;

  interface Step {
    readonly kind: 'set' | 'linear' | 'exponential' | 'target' | 'hold';
    readonly value: number;
    readonly at: number;
    readonly constant: number;
  }
  interface Kept {
    readonly node: AudioScheduledSourceNode;
    readonly context: StandInContext;
    readonly from: number;
    to: number;
  }

  const contexts: StandInContext[] = [];
  const kept: Kept[] = [];
  const byNode = new WeakMap<AudioNode, Kept>();
  const outputs = new WeakMap<AudioNode, Set<AudioNode | AudioParam>>();
  const steps = new WeakMap<AudioParam, Step[]>();
  let isWithheld = false;

  class StandInContext extends OfflineAudioContext {
    #ranMs = 0;
    #runningSinceMs: number | null = null;
    #state: AudioContextState = 'suspended';
    #wantsToRun = true;
    #waiting: (() => void)[] = [];

    constructor() {
      super(2, 1, RATE);
      contexts.push(this);
      setTimeout(() => this.wake(), WAKES_AFTER_MS);
    }

    override get currentTime(): number {
      const runMs = this.#runningSinceMs === null ? 0 : performance.now() - this.#runningSinceMs;
      return (this.#ranMs + runMs) / 1000;
    }

    override get state(): AudioContextState {
      return this.#state;
    }

    get baseLatency(): number {
      return OUTPUT_LATENCY_MS / 2000;
    }

    get outputLatency(): number {
      return OUTPUT_LATENCY_MS / 1000;
    }

    getOutputTimestamp(): { contextTime: number; performanceTime: number } {
      const contextTime = this.currentTime - this.outputLatency;
      // Before the first sound is out there is nothing to tell.
      if (contextTime <= 0) return { contextTime: 0, performanceTime: 0 };
      return { contextTime, performanceTime: performance.now() };
    }

    wake(): void {
      if (!this.#wantsToRun || this.#state !== 'suspended' || isWithheld) return;
      this.#runningSinceMs = performance.now();
      this.#enter('running');
      for (const resolve of this.#waiting.splice(0)) resolve();
    }

    override resume(): Promise<void> {
      this.#wantsToRun = true;
      if (this.#state === 'closed')
        return Promise.reject(new DOMException('closed', 'InvalidStateError'));
      if (this.#state === 'running') return Promise.resolve();
      setTimeout(() => this.wake(), WAKES_AFTER_MS);
      return new Promise((resolve) => this.#waiting.push(resolve));
    }

    override async suspend(): Promise<void> {
      this.#wantsToRun = false;
      this.halt('suspended');
    }

    async close(): Promise<void> {
      this.halt('closed');
    }

    halt(state: AudioContextState): void {
      this.#ranMs = this.currentTime * 1000;
      this.#runningSinceMs = null;
      this.#enter(state);
    }

    /** When a moment of this clock is heard, by the present relation of the two. */
    heardAtMs(seconds: number): number {
      return performance.now() + (seconds - this.currentTime) * 1000 + OUTPUT_LATENCY_MS;
    }

    #enter(state: AudioContextState): void {
      if (state === this.#state) return;
      this.#state = state;
      setTimeout(() => this.dispatchEvent(new Event('statechange')), 0);
    }
  }

  /** The value of a parameter at a time of its context. Source: Web Audio API, AudioParam. */
  function valueAt(param: AudioParam, at: number): number {
    let value = param.value;
    let since = 0;
    let target: Step | null = null;
    const settle = (until: number): void => {
      if (target === null) return;
      value =
        target.value + (value - target.value) * Math.exp(-(until - target.at) / target.constant);
    };
    const list = steps.get(param) ?? [];
    for (const step of list) {
      const isRamp = step.kind === 'linear' || step.kind === 'exponential';
      if (step.at > at && !isRamp) break;
      settle(Math.min(step.at, at));
      target = null;
      if (isRamp && step.at > at) {
        const share = step.at === since ? 1 : (at - since) / (step.at - since);
        const isEven = step.kind === 'linear' || value <= 0;
        return isEven
          ? value + (step.value - value) * share
          : value * (step.value / value) ** share;
      }
      if (step.kind === 'target') target = step;
      else if (step.kind !== 'hold') value = step.value;
      since = step.at;
    }
    settle(at);
    return value;
  }

  const params = AudioParam.prototype;
  function keepSteps(
    name: 'setValueAtTime' | 'linearRampToValueAtTime' | 'exponentialRampToValueAtTime',
    kind: Step['kind'],
  ): void {
    const native = params[name];
    params[name] = function (value, at) {
      native.call(this, value, at);
      keep(this, { kind, value, at, constant: 0 });
      return this;
    };
  }
  function keep(param: AudioParam, step: Step): void {
    const list = [...(steps.get(param) ?? []), step];
    steps.set(
      param,
      list.sort((one, other) => one.at - other.at),
    );
  }
  keepSteps('setValueAtTime', 'set');
  keepSteps('linearRampToValueAtTime', 'linear');
  keepSteps('exponentialRampToValueAtTime', 'exponential');
  const { setTargetAtTime, cancelScheduledValues } = params;
  params.setTargetAtTime = function (value, at, constant) {
    setTargetAtTime.call(this, value, at, constant);
    keep(this, { kind: 'target', value, at, constant });
    return this;
  };
  params.cancelScheduledValues = function (at) {
    cancelScheduledValues.call(this, at);
    steps.set(
      this,
      (steps.get(this) ?? []).filter((step) => step.at < at),
    );
    return this;
  };
  // The offline context stands at 0: what is held there is not what is held here.
  params.cancelAndHoldAtTime = function (at) {
    const held = valueAt(this, at);
    this.cancelScheduledValues(at);
    return this.setValueAtTime(held, at);
  };

  const { connect, disconnect } = AudioNode.prototype;
  AudioNode.prototype.connect = function (
    this: AudioNode,
    to: AudioNode & AudioParam,
    ...ports: number[]
  ) {
    outputs.set(this, (outputs.get(this) ?? new Set()).add(to));
    return connect.call(this, to, ...(ports as []));
  } as typeof connect;
  AudioNode.prototype.disconnect = function (this: AudioNode, ...from: unknown[]) {
    const [to] = from;
    if (to instanceof AudioNode) outputs.get(this)?.delete(to);
    else outputs.delete(this);
    return disconnect.apply(this, from as Parameters<typeof disconnect>);
  } as typeof disconnect;

  /** Keeps a start, and tells the page when the source has ended. */
  function starts(node: AudioScheduledSourceNode, when: number): void {
    const { context } = node;
    if (!(context instanceof StandInContext)) return;
    const from = Math.max(when, context.currentTime);
    const buffer = node instanceof AudioBufferSourceNode && !node.loop ? node.buffer : null;
    const rate = node instanceof AudioBufferSourceNode ? node.playbackRate.value : 1;
    const sound: Kept = {
      ...{ node, context, from },
      to: buffer === null ? Number.POSITIVE_INFINITY : from + buffer.duration / rate,
    };
    kept.push(sound);
    byNode.set(node, sound);
    tellsEnd(sound);
  }
  function tellsEnd(sound: Kept): void {
    if (sound.to === Number.POSITIVE_INFINITY) return;
    const { to, node, context } = sound;
    setTimeout(
      () => {
        if (sound.to === to) node.dispatchEvent(new Event('ended'));
      },
      Math.max(0, (to - context.currentTime) * 1000),
    );
  }
  const bufferStart = AudioBufferSourceNode.prototype.start;
  AudioBufferSourceNode.prototype.start = function (when = 0, ...rest) {
    bufferStart.call(this, when, ...(rest as [number, number]));
    starts(this, when);
  };
  const { start, stop } = AudioScheduledSourceNode.prototype;
  AudioScheduledSourceNode.prototype.start = function (when = 0) {
    start.call(this, when);
    starts(this, when);
  };
  AudioScheduledSourceNode.prototype.stop = function (when = 0) {
    stop.call(this, when);
    const sound = byNode.get(this);
    if (sound === undefined) return;
    sound.to = Math.min(Math.max(when, sound.context.currentTime), naturalEnd(sound));
    tellsEnd(sound);
  };
  function naturalEnd({ node, from }: Kept): number {
    if (!(node instanceof AudioBufferSourceNode) || node.loop) return Number.POSITIVE_INFINITY;
    return from + (node.buffer?.duration ?? 0) / node.playbackRate.value;
  }

  /** How loud what leaves a node reaches the output. */
  function loudness(node: AudioNode, at: number): number {
    if (node === node.context.destination) return 1;
    const gain = node instanceof GainNode ? valueAt(node.gain, at) : 1;
    let loudest = 0;
    for (const next of outputs.get(node) ?? []) {
      if (next instanceof AudioNode) loudest = Math.max(loudest, loudness(next, at));
    }
    return gain * loudest;
  }

  function told({ node, context, from, to }: Kept): StartedSound {
    const isTone = node instanceof OscillatorNode;
    const buffer = node instanceof AudioBufferSourceNode ? node.buffer : null;
    return {
      kind: isTone ? 'tone' : 'buffer',
      frequencyHz: isTone ? node.frequency.value : null,
      durationMs: buffer === null ? null : buffer.duration * 1000,
      fromMs: context.heardAtMs(from),
      toMs: context.heardAtMs(to),
    };
  }

  const standIn: StandIn = {
    started: () => kept.map(told),
    sounding() {
      return kept
        .filter(({ node, context, from, to }) => {
          const at = context.currentTime;
          return (
            context.state === 'running' && from <= at && at < to && loudness(node, at) > SILENCE
          );
        })
        .map(told);
    },
    contexts: () => contexts.map(({ state }) => state),
    suspend() {
      isWithheld = true;
      for (const context of contexts) if (context.state === 'running') context.halt('suspended');
    },
    resume() {
      isWithheld = false;
      for (const context of contexts) context.wake();
    },
    withhold() {
      isWithheld = true;
      const touched = (): void => {
        isWithheld = false;
        for (const context of contexts) context.wake();
      };
      for (const kind of ['pointerdown', 'keydown'])
        window.addEventListener(kind, touched, { capture: true, once: true });
    },
  };
  Object.assign(window, { AudioContext: StandInContext, standIn });
}
