/**
 * How long after its MIDI event a verdict is painted, in real Chromium; beside it, in the same run, a page that does nothing but
 * paint one rectangle a note: less than that no page can take.
 */

import type { Browser, Page } from 'playwright';
import { giveFakeMidi } from '../e2e/fake-keyboard.ts';
import { startProgram } from '../e2e/start-program.ts';
import { distribution, type Measure, ratio } from './bench.ts';
import { randomNumbers } from './long-take.ts';

const FRAME_MS = 1000 / 60;

const LONG_CHART = `title: Sixty-four bars
key: C
meter: 4/4
tempo: 240

[A]
${'| Dm7 | G7 | Cmaj7 | A7 |\n'.repeat(16)}`;

/** Sixteen notes a second: four slots to the beat at 240. */
const NOTE_EVERY_MS = 62.5;
const NOTES = 480;

/** How far from its time a note of a player who is no clock falls, at most, to either side. Invented. */
const SPREAD_MS = 15;

/** When each note falls after the start. */
function noteTimes(spreadMs: number): readonly number[] {
  const chance = randomNumbers(3);
  return Array.from(
    { length: NOTES },
    (_, note) => spreadMs + note * NOTE_EVERY_MS + (2 * chance() - 1) * spreadMs,
  );
}

interface PaintedNote {
  /** From the event until the verdict was painted. */
  readonly ms: number;
  /** Frames begun from the event until then: 1 is the first there was. */
  readonly frames: number;
}

/** Plays through the long chart and gives, for each note, when its verdict was painted. */
async function paintedAfter(page: Page, spreadMs: number): Promise<readonly PaintedNote[]> {
  return page.evaluate(
    async ({ times, holdMs }) => {
      const { keyboard } = window as unknown as { keyboard: { emit(bytes: number[]): void } };
      const waiting: { ms: number; frame: number }[] = [];
      const samples: { ms: number; frames: number }[] = [];
      // What a frame callback changes is painted with that frame; what is changed between frames, with the next.
      let inFrame = false;
      let frame = 0;
      let frameMs = -1;
      const { port1, port2 } = new MessageChannel();
      const afterPaint: (() => void)[] = [];
      port1.onmessage = () => {
        inFrame = false;
        for (const told of afterPaint.splice(0)) told();
      };
      const nextFrame = window.requestAnimationFrame.bind(window);
      window.requestAnimationFrame = (callback) =>
        nextFrame((nowMs) => {
          inFrame = true;
          // All callbacks of one frame are given the same time.
          if (nowMs !== frameMs) frame++;
          frameMs = nowMs;
          port2.postMessage(null);
          callback(nowMs);
        });
      const observer = new MutationObserver((changes) => {
        const drawn = changes.some(({ target }) => target instanceof SVGElement);
        if (!drawn || waiting.length === 0) return;
        const emitted = waiting.splice(0);
        const note = (): void => {
          const paintedMs = performance.now();
          samples.push(
            ...emitted.map((at) => ({ ms: paintedMs - at.ms, frames: frame - at.frame })),
          );
        };
        if (inFrame) afterPaint.push(note);
        else window.requestAnimationFrame(() => afterPaint.push(note));
      });
      // What moves with the beat is no verdict.
      for (const drawing of document.querySelectorAll('.line-layer')) {
        observer.observe(drawing, { childList: true, attributes: true, subtree: true });
      }
      const startMs = performance.now();
      for (const [note, time] of times.entries()) {
        const atMs = startMs + time;
        await new Promise((resolve) => setTimeout(resolve, Math.max(0, atMs - performance.now())));
        const midi = 60 + (note % 12);
        waiting.push({ ms: performance.now(), frame });
        keyboard.emit([0x90, midi, 80]);
        setTimeout(() => keyboard.emit([0x80, midi, 0]), holdMs);
      }
      await new Promise((resolve) => setTimeout(resolve, 300));
      observer.disconnect();
      return samples;
    },
    { times: noteTimes(spreadMs), holdMs: NOTE_EVERY_MS * 0.5 },
  );
}

/** What is played, and on what machine. */
interface Case {
  /** By how much the processor is slowed down for the page. */
  readonly throttle: number;
  readonly spreadMs: number;
}

const CASES: readonly Case[] = [
  { throttle: 1, spreadMs: 0 },
  { throttle: 1, spreadMs: SPREAD_MS },
  { throttle: 4, spreadMs: 0 },
];

/** A page with a fake keyboard, ready to be played on. */
type Prepare = (page: Page) => Promise<void>;

async function play(
  browser: Browser,
  { throttle, spreadMs }: Case,
  open: Prepare,
  begin: Prepare,
): Promise<readonly PaintedNote[]> {
  const context = await browser.newContext({ viewport: { width: 1440, height: 1000 } });
  await giveFakeMidi(context);
  const page = await context.newPage();
  await open(page);
  const session = await context.newCDPSession(page);
  await session.send('Emulation.setCPUThrottlingRate', { rate: throttle });
  await begin(page);
  const notes = await paintedAfter(page, spreadMs);
  await context.close();
  return notes;
}

async function openPlayScreen(page: Page, url: string): Promise<void> {
  await page.goto(url);
  await page
    .locator('input[type=file]')
    .first()
    .setInputFiles({
      name: 'long.chart',
      mimeType: 'text/plain',
      buffer: Buffer.from(LONG_CHART),
    });
  await page.getByRole('heading', { name: 'Sixty-four bars' }).waitFor();
  await page.getByText('Grid and rules').click();
  await page.getByLabel('Slots').selectOption('4 to the beat');
  await page
    .locator('label', { hasText: /^Level/ })
    .locator('select')
    .selectOption({ index: 2 });
  await page.getByRole('button', { name: 'Play', exact: true }).click();
  await page.getByText('Listening to Stage piano').waitFor();
}

async function beginTake(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Start' }).click();
  await page.locator('.stage-bar.current').waitFor();
}

/** Hears the fake keyboard and paints a rectangle for each key, in the frame after it. */
async function openBarePage(page: Page): Promise<void> {
  await page.goto('about:blank');
  await page.setContent('<svg class="line-layer" width="1200" height="800"></svg>');
  await page.evaluate(async () => {
    const drawing = document.querySelector('svg');
    const access = await navigator.requestMIDIAccess();
    let painted = 0;
    const paint = (): void => {
      const rectangle = document.createElementNS('http://www.w3.org/2000/svg', 'rect');
      rectangle.setAttribute('x', String((painted % 60) * 20));
      rectangle.setAttribute('y', String(Math.floor(painted / 60) * 30));
      rectangle.setAttribute('width', '10');
      rectangle.setAttribute('height', '10');
      drawing?.append(rectangle);
      painted++;
    };
    for (const input of access.inputs.values()) {
      input.onmidimessage = ({ data }) => {
        if (data?.[0] === 0x90) requestAnimationFrame(paint);
      };
    }
  });
}

const atOnce = async (): Promise<void> => {};

/** So many times each page is played on, by turns: a machine with other work to do has it during both. */
const TURNS = 5;
/** The most the program's p99 should be, against the bare page's. */
const MOST_TIMES_BARE = 1.6;

async function measure(browser: Browser, played: Case): Promise<Measure> {
  const program = await startProgram();
  const turns: { readonly bare: readonly PaintedNote[]; readonly notes: readonly PaintedNote[] }[] =
    [];
  for (let turn = 0; turn < TURNS; turn++) {
    const bare = await play(browser, played, openBarePage, atOnce);
    const { url } = turn === 0 ? program : await startProgram(program.dataFolder);
    const notes = await play(browser, played, (page) => openPlayScreen(page, url), beginTake);
    turns.push({ bare, notes });
  }
  await program.stop();
  const notes = turns.flatMap((turn) => turn.notes);
  const spread = spreadOf('event to paint', notes);
  const least = spreadOf(
    'a bare page, one rectangle a note',
    turns.flatMap(({ bare }) => bare),
  );
  const ratios = turns
    .map((turn): readonly [ours: number, bare: number] => [p99Of(turn.notes), p99Of(turn.bare)])
    .sort((one, other) => one[0] / one[1] - other[0] / other[1]);
  const [ours, bare] = ratios[(TURNS - 1) / 2] ?? [Number.NaN, Number.NaN];
  const { throttle, spreadMs } = played;
  return {
    name: `MIDI event to painted verdict, CPU ${throttle}× slower, notes up to ${spreadMs} ms off their time`,
    how: `Sixteen notes a second through a chart of 64 bars, ${TURNS} times by turns with a bare page; painted is when the frame that holds the verdict is done.`,
    figures: [
      spread,
      least,
      ratio(
        'p99 against the bare page’s, the middle one of all turns',
        'ms',
        ['p99', ours],
        ['p99 of the bare page', bare],
        MOST_TIMES_BARE,
      ),
      ratio('p99 against a frame', 'ms', ['p99', spread.p99], ['a 60 Hz frame', FRAME_MS]),
      ratio(
        'not in the first frame there was',
        'notes',
        ['later', notes.filter(({ frames }) => frames !== 1).length],
        ['all', notes.length],
      ),
      ratio(
        'verdicts not seen',
        'notes',
        ['missed', TURNS * NOTES - notes.length],
        ['played', TURNS * NOTES],
        0,
      ),
    ],
  };
}

function p99Of(notes: readonly PaintedNote[]): number {
  return spreadOf('', notes).p99;
}

function spreadOf(name: string, notes: readonly PaintedNote[]) {
  return distribution(
    name,
    'ms',
    notes.map(({ ms }) => ms),
  );
}

/** One measure for each case; the browser is left open. */
export async function paintedVerdicts(browser: Browser): Promise<readonly Measure[]> {
  const measures: Measure[] = [];
  for (const played of CASES) measures.push(await measure(browser, played));
  return measures;
}
