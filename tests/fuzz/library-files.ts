/** The files of an archive as its format has them, some of what is in them here already, some beside it, some new. */

import type { z } from 'zod';
import { LEVELS } from '../../src/core/words.ts';
import type { takeFileSchema } from '../../src/main/archive/format.ts';
import { eventsOf, FIGURES, FIRST_START_MS, MELODY } from '../helpers/library.ts';
import { setUpFor } from '../helpers/set-up.ts';
import type { Choices } from './chance.ts';

/** Paths of an archive and what is in them: text of a chart, or data to be written as JSON. */
export type LibraryFiles = Map<string, unknown>;

/** The ids `fillSmall` fills a library with, and others. */
const CHART_IDS = ['pier', 'gone', 'other', 'built-in:long-pier'];
const TAKE_IDS = ['take-1', 'take-gone', 'take-2'];

export const DEVICE = {
  deviceName: 'Stage piano',
  outputName: 'speakers',
  latencyMs: 23.5,
  spreadMs: null,
  splitMidi: 59,
  channel: 3,
};
export const REMARK = { atMs: FIRST_START_MS, text: 'Cold hands' };
export const SETTINGS = { player: { look: { theme: 'dark' } } };

/** The text of the chart of an id. */
export function chartTextOf(title: string): string {
  return `title: ${title}\nkey: C\nmeter: 4/4\n| Cmaj7 | Dm7 G7 |\n`;
}

/** A take as its file has it; the same for the same id until something is changed. */
export function takeOf(takeId: string): z.infer<typeof takeFileSchema> {
  return {
    schema: 'linekeeper.take/1',
    takeId,
    civilTime: null,
    startedAtMs: FIRST_START_MS,
    endMs: 2000,
    note: '',
    isFinished: true,
    figures: FIGURES,
    setUp: setUpFor('pier'),
    events: eventsOf(0, 3),
    sources: [],
    breaks: [],
    decision: null,
  };
}

export function libraryFiles(choices: Choices): LibraryFiles {
  const files: LibraryFiles = new Map();
  const charts = Array.from({ length: choices.below(4) }, (_, index) => {
    const chartId = choices.pick(CHART_IDS);
    const title = choices.pick(['pier', 'gone', 'Łódź – “quay”']);
    const file = `chart-${index}.chart`;
    files.set(`charts/${file}`, chartTextOf(title));
    return { chartId, title, file, updatedAtMs: index };
  });
  const takes = Array.from({ length: choices.below(3) }, () => choices.pick(TAKE_IDS));
  takes.forEach((takeId, index) => {
    const take = takeOf(takeId);
    files.set(`takes/take-${index}.json`, {
      ...take,
      startedAtMs: take.startedAtMs + choices.pick([0, 0, 1, 0.5]),
      note: choices.pick(['', '', 'slowly']),
      isFinished: !choices.oneIn(5),
      figures: choices.oneIn(3) ? null : take.figures,
      setUp: choices.oneIn(3)
        ? { ...take.setUp, grade: { ...take.setUp.grade, level: choices.pick(LEVELS) } }
        : take.setUp,
      events: choices.oneIn(6) ? take.events.slice(choices.below(6)) : take.events,
    });
    if (choices.oneIn(3)) files.set(`takes/take-${index}.mid`, 'MThd');
  });
  files.set('charts.json', charts);
  files.set('tags.json', [{ chartId: choices.pick(CHART_IDS), tags: ['slow', 'winter'] }]);
  if (!choices.oneIn(4)) {
    files.set('melodies.json', [{ chartId: choices.pick(CHART_IDS), melody: MELODY }]);
    files.set('remarks.json', [REMARK, { atMs: FIRST_START_MS + choices.below(3), text: 'x' }]);
  }
  files.set('settings.json', { ...SETTINGS, [choices.pick(['player', 'new'])]: choices.below(3) });
  files.set('devices.json', [{ ...DEVICE, channel: choices.pick([3, 4]) }]);
  return files;
}

/** The manifest over the files, all but the sums. */
export function manifestOf(files: LibraryFiles) {
  const count = (folder: string): number =>
    [...files.keys()].filter((path) => path.startsWith(folder)).length;
  return {
    schema: 'linekeeper.archive/1',
    program: '1.0.0',
    exportedAtMs: FIRST_START_MS,
    charts: count('charts/'),
    takes: count('takes/'),
    unread: [],
  };
}
