/** The program around a component, with a host that answers from memory. For tests with a document. */

import { render } from '@testing-library/react';
import type { ComponentProps, ReactNode } from 'react';
import type { Bridge, Device, Push, Settings } from '../../shared/bridge/index.ts';
import { ProgramProvider } from '../../src/renderer/app/program.tsx';
import { AnswersProvider } from '../../src/renderer/data/index.ts';
import type { PlayerSettings } from '../../src/renderer/settings/player-settings.ts';
import {
  readPlayerSettings,
  storePlayerSettings,
} from '../../src/renderer/settings/player-settings.ts';

type Answer = (request: Readonly<Record<string, unknown>>) => unknown;

export interface FakeHost {
  readonly bridge: Bridge;
  /** What was asked, in order, by name. */
  readonly asked: readonly { readonly name: string; readonly request: unknown }[];
  push(push: Push): void;
}

export interface HostContents {
  readonly devices?: readonly Device[];
  readonly settings?: PlayerSettings;
  /** Answers to other questions, by name. */
  readonly answers?: Readonly<Record<string, Answer>>;
}

export function fakeHost({ devices = [], settings, answers = {} }: HostContents = {}): FakeHost {
  const asked: { name: string; request: unknown }[] = [];
  const listeners = new Set<(push: Push) => void>();
  let stored: Settings = storePlayerSettings(settings ?? readPlayerSettings({}));
  const known: Record<string, Answer> = {
    'settings.get': () => stored,
    'settings.set': ({ values }) => {
      stored = { ...stored, ...(values as Settings) };
      return {};
    },
    'devices.list': () => devices,
    'devices.save': () => ({}),
    'host.info': () => ({ version: '0', notices: [] }),
    ...answers,
  };
  const bridge = {
    async ask(name: string, request: Readonly<Record<string, unknown>>) {
      asked.push({ name, request });
      const answer = known[name];
      if (answer === undefined) throw new Error(`${name} is not answered here`);
      return { ok: true, value: answer(request) };
    },
    onPush(listener: (push: Push) => void, signal: AbortSignal) {
      listeners.add(listener);
      signal.addEventListener('abort', () => listeners.delete(listener));
    },
  } as unknown as Bridge;
  return {
    bridge,
    asked,
    push(push) {
      for (const listener of listeners) listener(push);
    },
  };
}

/** The program, with what it knows of its host. */
export function Around({ bridge, children }: ComponentProps<typeof ProgramProvider>) {
  return (
    <AnswersProvider bridge={bridge}>
      <ProgramProvider bridge={bridge}>{children}</ProgramProvider>
    </AnswersProvider>
  );
}

/** Draws a component inside the program. */
export function renderInProgram(inside: ReactNode, host: FakeHost = fakeHost()) {
  return render(<Around bridge={host.bridge}>{inside}</Around>);
}
