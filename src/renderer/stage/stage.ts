/**
 * What is drawn while a line is played: one island of the page with one owner. It is fed by the run; React is outside. It draws
 * only what is new, for a page that draws in every frame has been given its frame already when a key falls, and shows the verdict
 * one frame later: the line at once when a key falls, beat, chord and bar when they begin, totals and map with the frame after
 * that or when no key comes for a while, and of a page that is turned one bar a frame.
 */

import { beatsPerBar, type Form, PICKUP_BAR } from '../../core/chart/index.ts';
import { defaultSlotsPerBeat } from '../../core/grid/index.ts';
import type { Level, SlotsPerBeat } from '../../core/words.ts';
import { isSilentBar, type Performance, type SilentBars } from '../audio/index.ts';
import { type BarDrawing, layLine, registerFor } from '../chart-page/line-model.ts';
import { createLiveDrawing, type Drawings } from '../chart-page/live-drawing.ts';
import { drawPickup } from '../chart-page/pickup-drawing.ts';
import type { LiveTake, LiveVerdicts } from '../session/live-take.ts';
import { createBarsView } from './bars-view.ts';
import { chordElement, nameOf } from './chord-element.ts';
import { make, span } from './dom.ts';
import { cleanWords, createFormMap, unbrokenWords } from './form-map.ts';
import { stageLayout } from './layout.ts';
import { createMapView } from './map-view.ts';
import { isSameMoment, type Moment, momentAt } from './moment.ts';
import { chordsOf, createPanelView } from './panel-view.ts';

/** What is played on the stage. */
export interface StageScene {
  readonly form: Form;
  readonly tempoBpm: number;
  readonly level: Level;
  readonly slotsPerBeat: SlotsPerBeat | null;
  /** Null: endless. */
  readonly choruses: number | null;
  readonly silentBars: SilentBars;
  /** Metres from which it is read. */
  readonly distanceM: number;
}

/** What sounds: a take and what it is played to, or an example. */
export interface Sounding {
  readonly take: LiveTake | null;
  readonly performance: Pick<Performance, 'scoreMs'>;
}

/** What is told beside the stage, and changes seldom. */
export type Told = Pick<LiveVerdicts, 'journal' | 'disconnected' | 'sound'>;

export interface StageNews {
  /** What sounds now, null while nothing does. Asked all the time. */
  readonly sounding: () => Sounding | null;
  readonly onTold: (told: Told) => void;
}

/** How often the take is told the time and the moment is looked at. */
const TICK_MS = 10;

/**
 * A beat is shown with the key that is played with it: from so much before its time on, and without a key so much later. Seen up
 * to 45 ms after it is heard it still seems to come with its beat. Source, from memory: Recommendation ITU-R BT.1359, where sound
 * is noticed to be ahead of its picture.
 */
const MOMENT_EARLY_MS = 25;
const MOMENT_WAITS_MS = 60;

/** How long a settled verdict, or a bar to be turned, may wait. */
const OWED_WAITS_MS = 100;

/** Lays the stage out in an element and draws on it until what it gives is called. */
export function playOnStage(root: HTMLElement, scene: StageScene, news: StageNews): () => void {
  const own = new AbortController();
  const draw = createDrawing(scene, news);
  let widthLaid = 0;
  let heightLaid = 0;
  function lay(): void {
    const width = root.clientWidth || window.innerWidth;
    const height = root.clientHeight || window.innerHeight;
    if (width === widthLaid && height === heightLaid) return;
    widthLaid = width;
    heightLaid = height;
    draw.lay(root, width, height);
  }
  lay();
  // Names are as wide as their type: what was laid before it was there is laid anew.
  void document.fonts?.ready.then(() => {
    if (own.signal.aborted) return;
    widthLaid = 0;
    lay();
  });
  window.addEventListener('resize', lay, { signal: own.signal });
  draw.start(own.signal);
  return () => {
    own.abort();
    root.replaceChildren();
  };
}

function createDrawing(scene: StageScene, news: StageNews) {
  const { form, tempoBpm, choruses, silentBars } = scene;
  const drawLine = createLiveDrawing(layLine(form, scene));
  const map = createFormMap(form);
  let drawings: Drawings = new Map();
  let drawnChorus = 1;
  /** Of the chorus before the present one: what is pencilled in. */
  let before: Drawings = new Map();
  let views: Views | null = null;
  let shown: Moment | null = null;
  let counted: LiveVerdicts | null = null;
  let toldNow: Told | null = null;
  let pickupDrawn: LiveVerdicts['pickup'] | null = null;
  let isTurning = false;
  /** A beat or a chord has begun, and the totals have not followed yet. */
  let isOwed = false;
  let dueMs = Number.POSITIVE_INFINITY;
  let frame: number | null = null;

  const drawingsOf = (chorus: number): ReadonlyMap<number, BarDrawing> => {
    if (chorus === drawnChorus) return drawings;
    return chorus === drawnChorus - 1 ? before : NOTHING_DRAWN;
  };

  function lay(root: HTMLElement, width: number, height: number): void {
    views = createViews(root, scene, width, height);
    const moment = shown ?? momentAt(form, null);
    if (moment === null) return;
    showMoment(moment);
    for (let isMore = true; isMore; ) isMore = views.bars.turn(moment, drawingsOf);
    views.map.draw(map);
    showTotals();
    if (pickupDrawn !== null) showPickup(pickupDrawn);
  }

  function showMoment(moment: Moment): void {
    views?.panel.show(moment, isSilent(moment));
    views?.bars.showMoment(moment);
    views?.map.showMoment(moment);
    views?.chorus(chorusWords(moment.chorus, choruses));
  }
  function isSilent({ bar, chorus, before: lead }: Moment): boolean {
    if (bar === null || bar === PICKUP_BAR || lead !== null) return false;
    const place = (chorus - 1) * form.bars.length + bar - (form.bars[0]?.bar ?? 1);
    return isSilentBar(silentBars, place, bar);
  }
  function showTotals(): void {
    const totals = map.totals();
    const isCounted = shown?.before === 'countIn' && news.sounding()?.take != null;
    views?.totals(
      isCounted ? 'Play on the next 1' : cleanWords(totals),
      isCounted ? '' : unbrokenWords(totals),
    );
  }
  function showPickup(notes: LiveVerdicts['pickup']): void {
    views?.bars.drawPickup(drawPickup(form, notes, registerFor(notes.map(({ midi }) => midi))));
  }

  function drawVerdicts(verdicts: LiveVerdicts, chorus: number): void {
    const drawn = drawLine(verdicts, chorus);
    const last = drawings;
    if (chorus !== drawnChorus) {
      before = chorus === drawnChorus + 1 ? last : NOTHING_DRAWN;
      drawnChorus = chorus;
      drawings = drawn;
      // The page follows bar by bar.
      isTurning = true;
      views?.bars.drawLine(drawingsOf, chorus, (bar) => drawn.has(bar));
      return;
    }
    if (drawn === last) return;
    drawings = drawn;
    views?.bars.drawLine(drawingsOf, chorus, (bar) => last.get(bar) !== drawn.get(bar));
  }

  function drawFrame(): void {
    frame = null;
    const sounding = news.sounding();
    const isDue = performance.now() >= dueMs;
    const moment = momentNow(sounding);
    if (moment === null) return;
    dueMs = Number.POSITIVE_INFINITY;
    const verdicts = sounding?.take?.snapshot() ?? null;
    if (verdicts !== null) drawVerdicts(verdicts, moment.chorus);
    if (!isSameMoment(shown, moment)) {
      // The frame of a new beat has enough to do: what follows from it comes with the next.
      isOwed = true;
      shown = moment;
      isTurning = true;
      showMoment(moment);
    } else if (isDue || isOwed || isTurning) {
      if (isTurning) isTurning = views?.bars.turn(moment, drawingsOf) ?? false;
      if (isDue || !isTurning) {
        isOwed = false;
        if (verdicts !== null) tell(verdicts);
        else showTotals();
      }
    }
    // Once the frame is done, and the next key hardly there yet.
    if (sounding?.take) setTimeout(sounding.take.shown);
  }

  function tell(verdicts: LiveVerdicts): void {
    counted = verdicts;
    map.take(verdicts);
    views?.map.draw(map);
    showTotals();
    if (verdicts.pickup !== pickupDrawn) {
      pickupDrawn = verdicts.pickup;
      showPickup(verdicts.pickup);
    }
    const { journal, disconnected, sound } = verdicts;
    const telling: Told = { journal, disconnected, sound };
    if (isSameTold(toldNow, telling)) return;
    toldNow = telling;
    news.onTold(telling);
  }

  /** The moment that is to be seen. */
  function momentNow(sounding: Sounding | null): Moment | null {
    if (sounding === null) return momentAt(form, null);
    const { scoreMs } = sounding.performance;
    const heardMs = scoreMs(performance.now()) + MOMENT_EARLY_MS;
    return momentAt(form, (heardMs * tempoBpm) / 60_000);
  }

  const ask = (): void => {
    frame ??= requestAnimationFrame(drawFrame);
  };

  function start(signal: AbortSignal): void {
    let heardOf: LiveTake | null = null;
    let ignore = (): void => {};
    const tick = (): void => {
      const nowMs = performance.now();
      const sounding = news.sounding();
      const take = sounding?.take ?? null;
      if (take !== heardOf) {
        ignore();
        heardOf = take;
        ignore = take?.whenHeard(ask) ?? (() => {});
      }
      take?.tick(nowMs);
      const isNew = !isSameMoment(shown, momentNow(sounding));
      if (isNew) dueMs = Math.min(dueMs, nowMs + MOMENT_WAITS_MS);
      const hasNews = take !== null && counted !== take.snapshot();
      if (isOwed || isTurning || hasNews) dueMs = Math.min(dueMs, nowMs + OWED_WAITS_MS);
      if (nowMs >= dueMs) ask();
    };
    const timer = setInterval(tick, TICK_MS);
    tick();
    ask();
    signal.addEventListener('abort', () => {
      ignore();
      clearInterval(timer);
      if (frame !== null) cancelAnimationFrame(frame);
    });
  }
  return { lay, start };
}

const NOTHING_DRAWN: Drawings = new Map();

function isSameTold(one: Told | null, other: Told): boolean {
  return (
    one?.journal === other.journal &&
    one.disconnected === other.disconnected &&
    one.sound === other.sound
  );
}

function chorusWords(chorus: number, choruses: number | null): string {
  return choruses === null
    ? `chorus ${chorus}`
    : `chorus ${Math.min(chorus, choruses)} of ${choruses}`;
}

interface Views {
  readonly panel: ReturnType<typeof createPanelView>;
  readonly bars: ReturnType<typeof createBarsView>;
  readonly map: ReturnType<typeof createMapView>;
  chorus(words: string): void;
  totals(clean: string, unbroken: string): void;
}

/** Makes everything anew for a window of this size. */
function createViews(root: HTMLElement, scene: StageScene, width: number, height: number): Views {
  const { form, choruses, distanceM } = scene;
  const facts = {
    bars: form.bars.length,
    beats: Math.max(...form.bars.map(({ meter }) => beatsPerBar(meter))),
    slotsPerBeat:
      scene.slotsPerBeat ?? Math.max(...form.bars.map(({ meter }) => defaultSlotsPerBeat(meter))),
    chordEm: longestChordEm(root, form),
  };
  const layout = stageLayout({ width, height, distanceM }, facts);
  const { style } = root.parentElement ?? root;
  const sizes = {
    ...{ head: layout.head, panel: layout.panel, rows: layout.rows, map: layout.map },
    ...{ foot: layout.foot, edge: layout.edge, total: layout.total, root: layout.root },
    ...{ moves: layout.moves, line: layout.mark / 4.8, mark: layout.mark, row: layout.page.row },
  };
  for (const [name, px] of Object.entries(sizes)) style.setProperty(`--stage-${name}`, `${px}px`);
  root.parentElement?.classList.toggle('wide', layout.isWide);
  const panel = createPanelView(form, layout, distanceM);
  const bars = createBarsView(form, layout, choruses);
  const map = createMapView(form, layout, distanceM, choruses);
  const [chorus, clean, unbroken] = [new Text(''), new Text(''), new Text('')];
  root.replaceChildren(
    make('stage-chorus', chorus),
    panel.element,
    bars.element,
    map.element,
    make('totals', span('stage-clean', clean), span('stage-unbroken', unbroken)),
  );
  return {
    ...{ panel, bars, map },
    chorus(words) {
      if (chorus.nodeValue !== words) chorus.nodeValue = words;
    },
    totals(cleanNow, unbrokenNow) {
      if (clean.nodeValue !== cleanNow) clean.nodeValue = cleanNow;
      if (unbroken.nodeValue !== unbrokenNow) unbroken.nodeValue = unbrokenNow;
    },
  };
}

const PROBE_PX = 100;
/** As wide as a common chord, where there is no type to measure. */
const USUAL_EM = 2.2;

/** How wide the longest chord name of a form is, in em of its root. */
function longestChordEm(root: HTMLElement, form: Form): number {
  const names = [...new Set(chordsOf(form).map(nameOf))];
  const probe = make('stage-probe', ...names.map((name) => make('', chordElement(name))));
  probe.style.fontSize = `${PROBE_PX}px`;
  root.append(probe);
  const em = probe.offsetWidth / PROBE_PX;
  probe.remove();
  return em > 0 ? em : USUAL_EM;
}
