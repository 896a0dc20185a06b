/** Chart files into the library: one, or a folder of thousands. */

import type { Bridge } from '../../../shared/bridge/index.ts';
import type { WaitingFile } from '../app/opened-file.ts';
import { refusalWords } from '../app/refusal-words.ts';
import { chartFromFile, type FileChart } from './chart-from-file.ts';

/** Charts stored in one call; each call is one transaction and one redrawing of the library. */
const HANDFUL = 50;

export interface ImportState {
  readonly total: number;
  readonly read: number;
  readonly chartIds: readonly string[];
  /** What was not imported or not understood, file by file; sentences. */
  readonly told: readonly string[];
  readonly finished: boolean;
}

/**
 * Imports files in order and tells how far it is after each handful. What was stored when the signal is aborted stays;
 * a file with problems is told of and passed over.
 */
export async function importCharts(
  bridge: Bridge,
  files: readonly WaitingFile[],
  onState: (state: ImportState) => void,
  signal: AbortSignal,
): Promise<ImportState> {
  let state: ImportState = {
    total: files.length,
    read: 0,
    chartIds: [],
    told: [],
    finished: false,
  };
  const tell = (part: Partial<ImportState>): void => {
    state = { ...state, ...part };
    onState(state);
  };
  tell({});
  for (let at = 0; at < files.length && !signal.aborted; at += HANDFUL) {
    const charts: FileChart[] = [];
    const told: string[] = [];
    for (const file of files.slice(at, at + HANDFUL)) {
      const read = await readChart(file);
      if (read.chart !== null) charts.push(read.chart);
      told.push(...read.told);
    }
    const stored = await bridge.ask('charts.add', {
      charts: charts.map(({ title, text, melody }) => ({ title, text, melody })),
    });
    if (!stored.ok) told.push(refusalWords(stored.refusal));
    tell({
      read: Math.min(at + HANDFUL, files.length),
      chartIds: [...state.chartIds, ...(stored.ok ? stored.value.chartIds : [])],
      told: [...state.told, ...told],
    });
    if (!stored.ok) break;
  }
  tell({ finished: true });
  return state;
}

async function readChart(
  file: WaitingFile,
): Promise<{ readonly chart: FileChart | null; readonly told: readonly string[] }> {
  try {
    const chart = await chartFromFile(await file.read());
    return chart.ok
      ? {
          chart: chart.value,
          told: chart.value.notices.map((notice) => `${file.name}: ${notice}`),
        }
      : { chart: null, told: [`${file.name} was not imported:`, ...chart.problems] };
  } catch {
    return {
      chart: null,
      told: [`${file.name} was not imported: it can no longer be read. Choose it again.`],
    };
  }
}
