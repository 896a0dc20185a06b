/** A library of ten years of practice, all of it invented: what the store and the progress screens are measured on. */

import { join } from 'node:path';
import type { TakeFigures, TakeSetUp } from '../../shared/bridge/index.ts';
import { createLibrary, createTakeStore, openLibrary } from '../../src/main/store/index.ts';
import { setUpFor } from '../helpers/set-up.ts';
import { randomNumbers } from './long-take.ts';

/** Eleven takes a day for ten years, each of about a thousand notes. */
export const MANY_TAKES = 40_000;
export const NOTES_A_TAKE = 1000;
const TAKES_A_DAY = 11;
const BARS = 32;
const CHARTS = 40;
const DAY_MS = 86_400_000;
const CHART_BARS = `[A]\n${`| ${['Dm7', 'G7', 'Cmaj7', 'A7'].join(' | ')} |\n`.repeat(BARS / 4)}`;
const CHORDS = ['Dm7', 'G7', 'Cmaj7', 'Em7b5', 'A7b9', 'Fm7', 'Bb7', 'Ebmaj7'];

function textOf(chart: number): string {
  return `title: Chart ${chart}\nkey: C\nmeter: 4/4\ntempo: 90\n${CHART_BARS}\nplan: side door\n${CHART_BARS}`;
}

function setUp(chartIds: readonly string[], random: () => number): TakeSetUp {
  const chart = Math.floor(random() ** 2 * CHARTS);
  const base = setUpFor(chartIds[chart]);
  const isDrill = random() < 0.15;
  return {
    ...base,
    chartTitle: `Chart ${chart}`,
    chartText: textOf(chart),
    plan: random() < 0.8 ? 'plain' : 'side door',
    key: random() < 0.7 ? 'C' : 'Eb',
    bars: isDrill ? { from: 5, to: 8 } : null,
    grade: {
      ...base.grade,
      level: random() < 0.6 ? 'steps' : 'thirds',
      tempo: { kind: 'steady', tempoBpm: 60 + 4 * Math.floor(random() * 10) },
    },
  };
}

function figures(random: () => number): TakeFigures {
  const bars = Array.from({ length: BARS }, (_, index) => ({
    bar: index + 1,
    slots: 32,
    clean: 32 - Math.floor(random() ** 3 * 12),
  }));
  const late = Math.floor(random() * 6);
  const chords = bars.map(({ bar, slots, clean }) => ({
    ...{ bar, beat: 1, slots, clean, chord: CHORDS[bar % CHORDS.length] ?? 'C' },
    faults: clean === slots ? {} : { outside: slots - clean },
    arrivals: { onTime: 3, unproven: 0, lateBySlots: random() < 0.1 ? [2] : [] },
  }));
  return {
    slots: BARS * 32,
    clean: bars.reduce((sum, { clean }) => sum + clean, 0),
    changesCounted: 120,
    changesOnTime: 120 - late,
    changesUnproven: 0,
    changesLeftOut: 0,
    evidence: {
      choruses: 4,
      bars,
      lateChanges: Array.from({ length: late }, () => ({
        ...{ bar: 1 + Math.floor(random() * BARS), beat: 1, toChord: 'G7' },
      })),
      chords,
    },
  };
}

/** A line of stepwise eighths, loose in time and loudness, as a player's is. */
function events(random: () => number) {
  let midi = 60;
  return Array.from({ length: NOTES_A_TAKE }, (_, index) => {
    midi = Math.min(84, Math.max(55, midi + Math.round(random() * 4 - 2)));
    const atMs = index * 250 + random() * 30;
    const velocity = 60 + Math.floor(random() * 40);
    return [
      { kind: 'noteOn', atMs, midi, velocity } as const,
      { kind: 'noteOff', atMs: atMs + 150 + random() * 80, midi } as const,
    ];
  }).flat();
}

/** Writes the library into a folder, its last take just before `nowMs`; its file, and the chart most was played on. */
export function makeLibrary(folder: string, takes: number, nowMs: number) {
  const random = randomNumbers(7);
  const file = join(folder, 'library.sqlite');
  const database = openLibrary(file);
  const texts = Array.from({ length: CHARTS }, (_, chart) => ({
    title: `Chart ${chart}`,
    text: textOf(chart),
    melody: null,
  }));
  const chartIds = createLibrary(database).addCharts(texts, nowMs);
  const store = createTakeStore(database);
  database.exec('BEGIN');
  for (let take = 0; take < takes; take++) {
    const startedAtMs = nowMs - ((takes - take) / TAKES_A_DAY) * DAY_MS;
    const played = events(random);
    store.add(setUp(chartIds, random), startedAtMs, played, NOTES_A_TAKE * 250, figures(random));
    if (take % 1000 === 999) database.exec('COMMIT; BEGIN');
  }
  database.exec('COMMIT');
  database.exec('PRAGMA wal_checkpoint(TRUNCATE)');
  database.close();
  return { file, chartId: chartIds[0] ?? '' };
}
