/**
 * A host that works until somebody kills it. It says each thing it did on standard output, synchronously: what was
 * played when it was played, and what was stored when the host had answered for it.
 */

import { readFileSync, writeSync } from 'node:fs';
import { join } from 'node:path';
import type { Bridge, CallName, CallReply, CallRequest } from '../../shared/bridge/index.ts';
import { tellRefusal } from '../../shared/refusal-words.ts';
import { openProgram, type Program } from '../../src/main/open-program.ts';
import { createJournal } from '../../src/renderer/session/journal.ts';
import { eventsOf } from '../helpers/library.ts';
import { setUpFor } from '../helpers/set-up.ts';
import type { Said, Work } from './works.ts';

const [work, dataFolder = '', archive = ''] = process.argv.slice(2);
const sharedFolder = join(import.meta.dirname, '..', '..', 'shared');
/** Denser than any line, so that the loss is measured finely. */
const EVENT_EVERY_MS = 8;

function say(said: Said): void {
  writeSync(1, `${JSON.stringify(said)}\n`);
}

function open(): Program {
  const settings = { dataFolder, sharedFolder, version: '1.2.3', push: () => {} };
  const program = openProgram({ ...settings, host: 'browser' });
  if (program === null) throw new Error('the folder is locked');
  return program;
}

/** The bridge the page has, without a page: what was played and is not stored dies with the host. */
function bridgeTo({ services }: Program): Pick<Bridge, 'ask'> {
  return {
    // The services have checked the reply against the bridge's own table.
    ask: (name, request) => services(name, request, 'page') as ReturnType<Bridge['ask']> as never,
  };
}

/** Plays a take through the page's own journal. */
async function play(bridge: Pick<Bridge, 'ask'>): Promise<void> {
  const begun = await bridge.ask('takes.begin', { setUp: setUpFor(), sources: [] });
  if (!begun.ok) throw new Error(tellRefusal(begun.refusal).message);
  const journal = createJournal(
    bridge,
    begun.value.takeId,
    () => ({ sources: [], breaks: [] }),
    () => {},
  );
  let count = 0;
  setInterval(() => {
    const event = { kind: 'noteOn', atMs: count, midi: 60, velocity: 80 } as const;
    journal.add(event);
    say({ kind: 'played', event: count++, atMs: performance.now() });
  }, EVENT_EVERY_MS);
  setInterval(() => say({ kind: 'alive', atMs: performance.now() }), 5);
}

async function saveCharts(bridge: Pick<Bridge, 'ask'>): Promise<never> {
  for (let chart = 0; ; chart++) {
    const title = `Saved ${chart}`;
    const saved = await bridge.ask('charts.save', {
      chartId: null,
      title,
      text: title.repeat(200),
    });
    if (saved.ok) say({ kind: 'saved', title });
    await bridge.ask('settings.set', { values: { [`saved-${chart % 7}`]: title } });
    await new Promise((resolve) => setTimeout(resolve, 15));
  }
}

async function again(
  bridge: Pick<Bridge, 'ask'>,
  name: 'library.backup' | 'archive.export',
): Promise<never> {
  for (;;) {
    const done = await bridge.ask(name, {});
    if (!done.ok) throw new Error(tellRefusal(done.refusal).message);
    say({ kind: 'did', name });
    await new Promise((resolve) => setTimeout(resolve, 5));
  }
}

async function importAll(bridge: Pick<Bridge, 'ask'>): Promise<void> {
  const base64 = readFileSync(archive).toString('base64');
  const put = await bridge.ask('archive.put', { upload: 'one', from: 0, base64 });
  const imported = put.ok ? await bridge.ask('archive.import', { upload: 'one' }) : put;
  if (!imported.ok) throw new Error(tellRefusal(imported.refusal).message);
  say({ kind: 'did', name: 'archive.import' });
}

async function restore(bridge: Pick<Bridge, 'ask'>): Promise<void> {
  const state = await bridge.ask('library.state', {});
  const backup = state.ok && state.value.kind === 'damaged' ? state.value.backup : null;
  if (backup === null) throw new Error('there is nothing to restore');
  say({ kind: 'ready' });
  const restored = await bridge.ask('library.restore', { name: backup.name });
  if (!restored.ok) throw new Error(tellRefusal(restored.refusal).message);
  say({ kind: 'did', name: 'library.restore' });
}

/** What a player says to a take that may have been read wrongly. */
const DECISIONS = [
  null,
  { reading: { kind: 'key', value: 2, fromSlot: null, clears: 9, of: 12 }, choice: 'taken' },
  { reading: { kind: 'split', value: 60, fromSlot: null, clears: 8, of: 8 }, choice: 'refused' },
] as const;

/** How a take ends: by Stop, by a tab that is closed, by one that comes back, by Stop before a note. */
const ENDS = ['stop', 'closed', 'back', 'nothing'] as const;

/** Whole runs, one after the other, each on a page of its own. */
async function playRuns({ services, leave }: Program): Promise<never> {
  for (let run = 0; ; run++) {
    const page = `page ${run}`;
    async function done<Name extends CallName>(
      name: Name,
      request: CallRequest<Name>,
    ): Promise<CallReply<Name>> {
      const answer = await services(name, request, page);
      if (!answer.ok) throw new Error(`${name}: ${tellRefusal(answer.refusal).message}`);
      await new Promise((resolve) => setTimeout(resolve, 2));
      return answer.value as CallReply<Name>;
    }
    const end = ENDS[run % ENDS.length] ?? 'stop';
    const { takeId } = await done('takes.begin', { setUp: setUpFor(), sources: [] });
    const events = end === 'nothing' ? [] : eventsOf(run, 5 + (run % 7));
    const append = async (from: number, until: number): Promise<void> => {
      for (let at = from; at < until; at += 3) {
        const batch = events.slice(at, Math.min(at + 3, until));
        const beside = { sources: [], breaks: [{ fromMs: 1, toMs: at + 2 }] };
        const { stored } = await done('takes.append', {
          ...{ takeId, from: at, events: batch },
          ...beside,
        });
        say({ kind: 'stored', takeId, events: stored });
      }
    };
    const half = Math.floor(events.length / 2);
    await append(0, half);
    if (end === 'back') leave(page);
    await append(half, events.length);
    if (end === 'stop' || end === 'nothing') {
      const { kept } = await done('takes.finish', { takeId, endMs: 10_500 });
      if (!kept) say({ kind: 'notKept', takeId });
    } else leave(page);
    if (end !== 'nothing') {
      const decision = DECISIONS[run % DECISIONS.length] ?? null;
      await done('takes.decide', { takeId, decision });
    }
  }
}

const WORKS: Readonly<
  Record<Exclude<Work, 'runs'>, (bridge: Pick<Bridge, 'ask'>) => Promise<unknown>>
> = {
  play: (bridge) => Promise.all([play(bridge), saveCharts(bridge)]),
  backup: (bridge) => Promise.all([play(bridge), again(bridge, 'library.backup')]),
  export: (bridge) => Promise.all([play(bridge), again(bridge, 'archive.export')]),
  import: (bridge) => Promise.all([play(bridge), importAll(bridge)]),
  migrate: async () => {},
  restore,
};

if (work === 'migrate') say({ kind: 'ready' });
const program = open();
if (work === 'migrate') say({ kind: 'did', name: 'migrate' });
else if (work !== 'restore') say({ kind: 'ready' });
if (work === 'runs') await playRuns(program);
else await WORKS[work as Exclude<Work, 'runs'>](bridgeTo(program));
setInterval(() => {}, 1000);
