/** What the renderer may ask for, one function a call. A call of the bridge without its function does not compile. */

import type { DatabaseSync } from 'node:sqlite';
import { isDeepStrictEqual } from 'node:util';
import type {
  CallName,
  CallReply,
  CallRequest,
  HostNotice,
  Push,
  TakeSetUp,
} from '../../../shared/bridge/index.ts';
import type { TakeEvents } from '../../core/take/model.ts';
import type { Transfer } from '../archive/index.ts';
import {
  createCounting,
  createGoalBook,
  createHistory,
  createProgressHandlers,
} from '../progress/index.ts';
import {
  asStored,
  type Backups,
  civilTimeAt,
  createChartOutlines,
  createPracticeJournal,
  type Library,
  plainRefusal,
  StoreError,
  type TakeStore,
} from '../store/index.ts';
import { createTakeDesk, uncounted } from '../takes/index.ts';
import { createExportHandlers, createImportHandlers } from './archive-handlers.ts';
import { isShippedChart, type Shipped, shippedChartId } from './shipped.ts';

export interface ServiceParts {
  readonly library: Library;
  readonly takes: TakeStore;
  readonly shipped: Shipped;
  readonly database: DatabaseSync;
  readonly backups: Backups;
  readonly transfer: Transfer;
  readonly dataFolder: string;
  /** Throws when the library's file is no longer where it was opened. */
  readonly requireFile: () => void;
  /** What a player should know about this run. */
  readonly notices: readonly HostNotice[];
  readonly host: 'electron' | 'browser';
  readonly version: string;
  readonly nowMs: () => number;
  /** Tells every window. */
  readonly push: (push: Push) => void;
}

export type Handlers = {
  readonly [Name in CallName]: (
    request: CallRequest<Name>,
    /** The page that asks. */
    client: string,
  ) => CallReply<Name> | Promise<CallReply<Name>>;
};

export interface Serving {
  readonly handlers: Handlers;
  /** A page is gone. */
  leave(client: string): void;
}

/** The functions of all calls. They throw `StoreError` for what a player can act on. */
export function createHandlers(parts: ServiceParts): Serving {
  const { library, takes, shipped, backups, nowMs } = parts;
  const journal = createPracticeJournal(parts.database);
  const changed = (what: Extract<Push, { kind: 'changed' }>['what']): Record<string, never> => {
    parts.push({ kind: 'changed', what });
    return {};
  };
  const ownChart = (chartId: string): string => {
    if (!isShippedChart(chartId)) return chartId;
    throw new StoreError(plainRefusal('notAllowed', 'shippedChart'));
  };

  const history = createHistory(parts.database);
  const goalBook = createGoalBook({
    charts: () => [...library.charts(), ...shipped.charts],
    settings: () => library.settings(),
    outlinesOf: createChartOutlines(parts.database, parts.version),
  });
  const progress = createProgressHandlers({
    history,
    goalBook,
    minutesPlayedOn: (day) => takes.minutesOn(day),
    now: () => ({ nowMs: nowMs(), today: civilTimeAt(nowMs()).day }),
  });
  const desk = createTakeDesk({
    ...{ takes, nowMs },
    isOpen: () => parts.database.isOpen,
    onChanged: () => void changed('takes'),
    onNotice: () => void changed('host'),
  });
  /** A hand-over file that is opened again brings the same take: begun at the same moment, with the same notes on the same chart. */
  const takeAlreadyHere = (
    { chartId }: TakeSetUp,
    startedAtMs: number,
    { events, endMs }: TakeEvents,
  ): string | null => {
    const begunThen = journal.takes(startedAtMs, startedAtMs + 1).takes;
    const same = begunThen.find(
      (other) =>
        other.startedAtMs === startedAtMs &&
        other.chartId === chartId &&
        other.endMs === endMs &&
        isDeepStrictEqual(takes.get(other.takeId).events, asStored(events)),
    );
    return same?.takeId ?? null;
  };
  void desk.finishLeftOpen();
  const counting = createCounting(
    parts.database,
    () => void changed('library'),
    () => {
      // The first to ask for today waits for no text to be read.
      goalBook.ofSession(history.kept());
      changed('takes');
    },
  );
  void counting.run();

  function unreadNotices(): readonly HostNotice[] {
    const unread = counting.unread().flatMap((takeId) => takes.name(takeId) ?? []);
    const told = unread
      .slice(0, MOST_UNREAD_TOLD)
      .map((name) => uncounted(name, 'figuresUnreadable'));
    const more = unread.length - told.length;
    return more === 0 ? told : [...told, { kind: 'moreUncounted', takes: more }];
  }

  const handlers: Handlers = {
    ...progress,
    'host.info': () => {
      const problem = backups.problem();
      const failed: readonly HostNotice[] =
        problem === null ? [] : [{ kind: 'backupFailed', why: problem.why }];
      return {
        host: parts.host,
        version: parts.version,
        notices: [...parts.notices, ...failed, ...desk.notices(), ...unreadNotices()],
      };
    },
    'library.state': () => {
      const problem = backups.problem();
      return {
        kind: 'open',
        folder: parts.dataFolder,
        backups: backups.list().map(({ name, madeAtMs }) => ({ name, madeAtMs })),
        problem,
        counting: counting.state(),
      };
    },
    'library.backup': async () => {
      await backups.make();
      const problem = backups.problem();
      if (problem !== null) throw new StoreError(problem);
      return {};
    },
    'library.restore': refuseRepair,
    'library.beginNew': refuseRepair,
    ...createExportHandlers(parts, (work) => work(parts.database)),
    ...createImportHandlers(parts.transfer, parts.database, () => {
      for (const what of ['charts', 'takes', 'journal', 'settings', 'devices'] as const)
        changed(what);
    }),
    'charts.list': () => {
      const lastPlayed = takes.lastPlayed();
      const tags = library.tags();
      const row = (builtIn: boolean) => (chart: Shipped['charts'][number]) => ({
        ...chart,
        builtIn,
        tags: tags.get(chart.chartId) ?? [],
        lastPlayedAtMs: lastPlayed.get(chart.chartId) ?? null,
      });
      return [...library.charts().map(row(false)), ...shipped.charts.map(row(true))];
    },
    'charts.save': ({ chartId, title, text }) => {
      const own = chartId === null ? null : ownChart(chartId);
      const saved = library.saveChart(own, title, text, nowMs());
      changed('charts');
      return { chartId: saved };
    },
    'charts.add': ({ charts }) => {
      const chartIds = library.addCharts(charts, nowMs());
      changed('charts');
      return { chartIds };
    },
    'charts.tag': ({ chartId, tags }) => {
      library.setTags(chartId, tags);
      return changed('charts');
    },
    'charts.melody': ({ chartId }) => ({ melody: library.melody(chartId) }),
    'charts.saveMelody': ({ chartId, melody }) => {
      library.setMelody(chartId, melody);
      return changed('charts');
    },
    'charts.delete': ({ chartId }) => {
      library.setChartDeleted(ownChart(chartId), nowMs());
      return changed('charts');
    },
    'charts.restore': ({ chartId }) => {
      library.setChartDeleted(ownChart(chartId), null);
      return changed('charts');
    },
    'takes.begin': ({ setUp, sources }, client) => ({ takeId: desk.begin(client, setUp, sources) }),
    'takes.append': ({ takeId, from, events, ...beside }, client) => ({
      stored: desk.append(client, takeId, from, events, beside),
    }),
    'takes.finish': ({ takeId, endMs }) => ({ kept: desk.finish(takeId, endMs) }),
    'takes.open': (_none, client) => ({ take: desk.open(client) }),
    'takes.add': ({ setUp, startedAtMs, decision, ...take }) => {
      const known = startedAtMs === null ? null : takeAlreadyHere(setUp, startedAtMs, take);
      if (known !== null) return { takeId: known };
      const takeId = desk.add(setUp, startedAtMs ?? nowMs(), take);
      if (decision !== null) desk.decide(takeId, decision);
      return { takeId };
    },
    'takes.list': ({ chartId, limit }) => [...takes.list(chartId, limit)],
    'takes.get': ({ takeId }) => {
      desk.read(takeId);
      return takes.get(takeId);
    },
    'takes.note': ({ takeId, note }) => {
      takes.setNote(takeId, note);
      return changed('takes');
    },
    'takes.decide': ({ takeId, decision }) => {
      desk.decide(takeId, decision);
      return {};
    },
    'takes.delete': ({ takeId }) => {
      desk.delete(takeId);
      return {};
    },
    'takes.restore': ({ takeId }) => {
      takes.setDeleted(takeId, null);
      return changed('takes');
    },
    'journal.takes': ({ fromMs, toMs }) => journal.takes(fromMs, toMs),
    'journal.remarks': () => journal.remarks(),
    'journal.remark': (remark) => {
      journal.setRemark(remark);
      return changed('journal');
    },
    'settings.get': () => library.settings(),
    'settings.set': ({ values }) => {
      library.saveSettings(values);
      return changed('settings');
    },
    'devices.list': () => [...library.devices()],
    'devices.save': ({ device }) => {
      library.saveDevice(device);
      return changed('devices');
    },
    'demos.list': () => shipped.demos,
    'demos.get': ({ file }) => {
      const bytes = shipped.demoBytes(file);
      const demo = shipped.demos.find((listed) => listed.file === file);
      if (bytes === null || demo === undefined) {
        throw new StoreError(plainRefusal('notFound', 'noSuchDemo'));
      }
      const base64 = Buffer.from(bytes).toString('base64');
      return { base64, chartId: shippedChartId(demo.chartFile) };
    },
  };
  return { handlers, leave: (client) => desk.leave(client) };
}

/** More names than this are no help. */
const MOST_UNREAD_TOLD = 5;

function refuseRepair(): never {
  throw new StoreError(plainRefusal('notAllowed', 'librarySound'));
}
