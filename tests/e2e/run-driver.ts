/** Leads a page along a way through a run, in one call of the page, and tells where it came to rest. */

import type { Page } from 'playwright';
import type { Controlled } from './controlled-time.ts';
import type { FakeKeyboard } from './fake-keyboard.ts';
import type { PageWay } from './run-ways.ts';
import type { StandIn } from './sound-stand-in.ts';

/** The key that starts and stops a take. */
export const SIGNAL_MIDI = 108;

export type Rest = 'ready' | 'failed' | 'ended' | 'left';

export interface Walked {
  /** Where it came to rest once it was stopped and the host had answered. */
  readonly rest: Rest | null;
  /** What sounded then. */
  readonly sounding: number;
  /** The totals shown of each take that was kept; null where it was stopped before they had followed. */
  readonly live: readonly (string | null)[];
}

/**
 * From the play screen, with time held, along a way; throws where the page does not come to the way's end. Then the page is
 * on the screen of charts.
 */
export function walk(page: Page, way: PageWay): Promise<Walked> {
  return page.evaluate(drive, [way, SIGNAL_MIDI] as const);
}

/** Runs in the page, so it reaches nothing outside itself. */
async function drive([{ steps, end }, signalMidi]: readonly [PageWay, number]): Promise<Walked> {
  const STEP_MS = 20;
  /** In real time: what has not come by then never will. */
  const PATIENCE_MS = 60_000;
  const { __pwClock, answered, gate, standIn, keyboard } = window as unknown as Controlled &
    FakeKeyboard & { standIn: StandIn };
  const { controller, builtins } = __pwClock;

  /** The totals shown last. */
  let totals = '';
  async function pass(ms: number): Promise<void> {
    for (let leftMs = ms; leftMs > 0; leftMs -= STEP_MS) {
      await answered();
      await controller.runFor(STEP_MS);
      const shown = document.querySelector('.totals')?.textContent ?? '';
      // Between takes a hint stands there.
      if (shown.includes(' clean')) totals = shown;
    }
    await answered();
  }
  async function until(what: string, holds: () => unknown): Promise<void> {
    const fromMs = builtins.performance.now();
    for (let look = 0; !holds(); look++) {
      if (builtins.performance.now() - fromMs > PATIENCE_MS)
        throw new Error(
          `${what} never came: ${steps.join(' > ')}; ${document.body.textContent?.slice(0, 300)}`,
        );
      await pass(STEP_MS);
      // What the page fetches of itself comes in real time.
      if (look % 10 === 9)
        await new Promise((resolve) => builtins.setTimeout(resolve as () => void, 1));
    }
  }
  const button = (name: string): HTMLButtonElement | undefined =>
    [...document.querySelectorAll('button')].find(
      (each) => each.textContent?.trim() === name && !each.disabled,
    );
  const has = (selector: string): boolean => document.querySelector(selector) !== null;
  function rest(): Rest | null {
    if (button('Save as MIDI')) return 'ended';
    if (button('Play')) return 'left';
    if (!button('Start')) return null;
    return has('[role=alert]') ? 'failed' : 'ready';
  }
  const press = (key: string): void => {
    document.body.dispatchEvent(new KeyboardEvent('keydown', { key, bubbles: true }));
  };
  const heldOf = (name: string) => gate.held.findIndex((each) => each.name === name);
  async function held(name: string): Promise<(typeof gate.held)[number]> {
    await until(name, () => heldOf(name) >= 0);
    const [one] = gate.held.splice(heldOf(name), 1);
    if (one === undefined) throw new Error(name);
    return one;
  }
  const refused = (code: string) => ({
    ok: false,
    refusal: { code, why: { kind: 'plain', what: 'hostSilent' } },
  });
  async function note(): Promise<void> {
    keyboard.emit([0x90, 62, 80]);
    await pass(60);
    keyboard.emit([0x80, 62, 0]);
  }

  const isAtRest = ['ready', 'failed', 'ended', 'left'].includes(end);
  let isOver = false;
  const live: (string | null)[] = [];
  /** The host did what it was asked, and something else was answered. */
  const lost: (typeof gate.held)[number][] = [];
  let heardBefore = 0;
  await until('the play screen', () => button('Start'));
  gate.holds = ['takes.begin', 'takes.finish'];
  for (const [index, step] of steps.entries()) {
    switch (step) {
      case 'START':
        await until('Start', () => button('Start'));
        heardBefore = standIn.started().length;
        button('Start')?.click();
        break;
      case 'STOP':
        press('Escape');
        break;
      case 'SIGNAL':
        heardBefore = standIn.started().length;
        keyboard.emit([0x90, signalMidi, 80]);
        keyboard.emit([0x80, signalMidi, 0]);
        break;
      case 'LEAVE':
        // The browser's Back.
        history.back();
        await until('the charts', () => button('Play'));
        break;
      case 'READY':
        await until(
          'an example or a take',
          () => heldOf('takes.begin') >= 0 || standIn.started().length > heardBefore,
        );
        break;
      case 'UNWRITTEN':
        await until('the problem', () => has('[role=alert]'));
        break;
      case 'HEARD':
        await until('the end of the example', () => heldOf('takes.begin') >= 0);
        break;
      case 'BEGUN':
        isOver = false;
        totals = '';
        (await held('takes.begin')).go();
        await until('the count-in', () => !has('.key-row'));
        break;
      case 'REFUSED': {
        const isBegin = heldOf('takes.begin') >= 0;
        const call = await held(isBegin ? 'takes.begin' : 'takes.finish');
        call.answer(refused('notFound'));
        if (!isBegin) lost.push(call);
        await pass(STEP_MS);
        break;
      }
      case 'PLAYED':
        await until('the downbeat', () => !has('.caution'));
        if (steps.slice(index).find((later) => later === 'KEPT' || later === 'NOT KEPT') === 'KEPT')
          await note();
        break;
      case 'OVER':
        await until('the end of the take', () => heldOf('takes.finish') >= 0);
        isOver = true;
        break;
      case 'WAITING':
        (await held('takes.finish')).answer(refused('internal'));
        await pass(STEP_MS);
        break;
      case 'KEPT':
      case 'NOT KEPT':
        if (step === 'KEPT') live.push(isOver ? totals : null);
        heardBefore = standIn.started().length;
        (await held('takes.finish')).go();
        await pass(STEP_MS);
        break;
    }
  }
  // What was pressed last is drawn once this task is over, in real time.
  await new Promise((resolve) => builtins.setTimeout(resolve as () => void, 1));
  await pass(STEP_MS);
  if (isAtRest) await until(end, () => rest() === end);
  gate.holds = [];
  for (const { go } of [...gate.held.splice(0), ...lost]) go();
  const fromMs = builtins.performance.now();
  async function isStill(): Promise<boolean> {
    const before = rest();
    await pass(60);
    return before !== null && rest() === before;
  }
  while (!(await isStill()) && builtins.performance.now() - fromMs < PATIENCE_MS) {
    if (rest() === null) press('Escape');
    await pass(200);
  }
  // Silence within 120 ms.
  await pass(120);
  const walked = { rest: rest(), sounding: standIn.sounding().length, live };
  // What waited for the host is asked again within 250 ms.
  await pass(300);
  if (walked.rest !== 'left') button('← Charts')?.click();
  await until('the charts', () => button('Play'));
  return walked;
}
