/** A chart under edit: its text, what it reads as, and its way to disk while it is edited. */

import { startTransition, useCallback, useEffect, useMemo, useRef, useState } from 'react';
import type { ChartRow } from '../../../../shared/bridge/index.ts';
import { type Chart, type ChartReading, readChart } from '../../../core/chart/index.ts';
import { useProgram } from '../../app/program.tsx';
import { refusalWords } from '../../app/refusal-words.ts';
import { useAnswer } from '../../data/index.ts';
import { createTextEditor, type TextEditor } from './text-editor.ts';

/** A pause this long stores what was typed. */
const STORE_AFTER_MS = 500;

export interface Draft {
  readonly editor: TextEditor;
  readonly text: string;
  /** The text as it is read, with its problems. */
  readonly reading: ChartReading;
  /** The chart as far as it is understood; null where that is no chart at all. */
  readonly chart: Chart | null;
  /** What is said about storing: that it is stored, that it is not yet, or why it failed. */
  readonly state: 'stored' | 'waiting' | { readonly failure: string };
  /** The chart was deleted elsewhere meanwhile. What is typed is stored with it all the same, and comes back with it. */
  readonly isDeleted: boolean;
  /** Takes the deletion back. */
  bringBack(): Promise<void>;
  /** Stores at once; answers the id of the stored chart: a copy, when a shipped one was changed. */
  store(): Promise<string>;
}

/** Typing is read when it pauses this long: no keystroke waits for a long chart to be read and drawn. */
const READ_AFTER_MS = 80;

/** Takes what is typed after a pause, and in pieces that let frames and keys pass; any other change at once. */
function pausing(take: (text: string) => void): (text: string, isTyped: boolean) => void {
  let timer: ReturnType<typeof setTimeout> | undefined;
  return (text, isTyped) => {
    clearTimeout(timer);
    if (isTyped) timer = setTimeout(() => startTransition(() => take(text)), READ_AFTER_MS);
    else take(text);
  };
}

/** The title of a text that need not be readable. */
function titleOf(text: string, otherwise: string): string {
  const title = /^title:[ \t]*(\S[^\r\n]*)$/imu.exec(text)?.[1]?.trim();
  return (title ?? otherwise).slice(0, 500);
}

/** Whether a chart that was in the library is there no more. */
function useIsDeleted(chartId: string | null): boolean {
  const { value } = useAnswer('charts.list', {});
  const [seenId, setSeenId] = useState<string | null>(null);
  const isThere = value?.some((row) => row.chartId === chartId) === true;
  if (isThere && seenId !== chartId) setSeenId(chartId);
  return value !== null && !isThere && chartId !== null && seenId === chartId;
}

/** Edits a chart of the library. Unreadable text is stored too: it is the player's. */
export function useDraft(row: ChartRow): Draft {
  const { bridge } = useProgram();
  const [text, setText] = useState(row.text);
  const [editor] = useState(() => createTextEditor(row.text, pausing(setText)));
  const [state, setState] = useState<Draft['state']>('stored');
  const [chartId, setChartId] = useState(row.builtIn ? null : row.chartId);
  const isDeleted = useIsDeleted(chartId);
  const stored = useRef({ chartId: row.builtIn ? null : row.chartId, text: row.text });
  const storing = useRef(Promise.resolve(row.chartId));

  const reading = useMemo(() => readChart(text), [text]);

  const store = useCallback((): Promise<string> => {
    // One after another: the first to store a copy learns its id.
    storing.current = storing.current.then(async () => {
      const now = editor.text();
      const { chartId, text: before } = stored.current;
      if (now === before) return chartId ?? row.chartId;
      const title = titleOf(now, row.title);
      const reply = await bridge.ask('charts.save', { chartId, title, text: now });
      if (!reply.ok) {
        setState({ failure: refusalWords(reply.refusal) });
        return chartId ?? row.chartId;
      }
      stored.current = { chartId: reply.value.chartId, text: now };
      setChartId(reply.value.chartId);
      setState(editor.text() === now ? 'stored' : 'waiting');
      return reply.value.chartId;
    });
    return storing.current;
  }, [bridge, editor, row]);

  useEffect(() => {
    if (editor.text() === text) editor.show(reading);
  }, [editor, reading, text]);

  useEffect(() => {
    if (text === stored.current.text) return;
    setState('waiting');
    const timer = setTimeout(() => void store(), STORE_AFTER_MS);
    return () => clearTimeout(timer);
  }, [text, store]);

  useEffect(() => {
    const leaving = new AbortController();
    window.addEventListener('pagehide', () => void store(), { signal: leaving.signal });
    return () => {
      leaving.abort();
      void store();
    };
  }, [store]);

  return {
    editor,
    text,
    reading,
    chart: reading.chart,
    ...{ state, isDeleted, store },
    async bringBack() {
      if (chartId === null) return;
      await store();
      const reply = await bridge.ask('charts.restore', { chartId });
      if (!reply.ok) setState({ failure: refusalWords(reply.refusal) });
    },
  };
}
