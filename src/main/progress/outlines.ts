/** What the ladder asks of chart texts: each is read once, and kept from one start of the program to the next. */

import { createHash } from 'node:crypto';
import { z } from 'zod';
import { parseChart } from '../../core/chart/index.ts';
import { formatKey, type Key, parseKey } from '../../core/theory/index.ts';
import type { ChartOutlines } from '../store/index.ts';
import { memo } from './memo.ts';

export interface Outline {
  readonly plans: readonly string[];
  readonly key: Key;
  readonly tempoBpm: number | null;
}

const outlineSchema = z.tuple([z.array(z.string()), z.string(), z.number().nullable()]);

export interface OutlineBook {
  /** Null for a text that cannot be read. */
  outlineOf(chart: { readonly chartId: string; readonly text: string }): Outline | null;
  /** Keeps what was read for the next start, but for texts that could not be: there are few. */
  keep(): void;
}

/** `version` is that of the program: another may read the same text otherwise. */
export function createOutlineBook(outlines: ChartOutlines, version: string): OutlineBook {
  const read = new Map<string, { readonly text: string; readonly outline: Outline | null }>();
  const kept = memo(() => outlines.all());

  function sumOf(text: string): string {
    return createHash('sha256')
      .update(JSON.stringify([version, text]))
      .digest('base64');
  }

  return {
    outlineOf({ chartId, text }) {
      const known = read.get(chartId);
      if (known?.text === text) return known.outline;
      const outline = keptOutline(kept().get(sumOf(text))) ?? readOutline(text);
      read.set(chartId, { text, outline });
      return outline;
    },
    keep() {
      const all = new Map(
        [...read.values()].flatMap(({ text, outline }) =>
          outline === null ? [] : [[sumOf(text), outlineText(outline)] as const],
        ),
      );
      if ([...all.keys()].every((sum) => kept().has(sum))) return;
      try {
        outlines.keep(all);
      } catch {
        // A disk that is full keeps nobody from practising: the texts are read again as long as it is.
      }
    },
  };
}

function readOutline(text: string): Outline | null {
  const parsed = parseChart(text);
  if (!parsed.ok) return null;
  const { plans, key, tempoBpm } = parsed.value;
  return { plans: plans.map(({ name }) => name), key, tempoBpm };
}

function outlineText({ plans, key, tempoBpm }: Outline): string {
  return JSON.stringify([plans, formatKey(key), tempoBpm]);
}

/** Null for what is damaged, or not there. */
function keptOutline(text: string | undefined): Outline | null {
  if (text === undefined) return null;
  try {
    const [plans, keyText, tempoBpm] = outlineSchema.parse(JSON.parse(text));
    const key = parseKey(keyText);
    return key && { plans, key, tempoBpm };
  } catch {
    return null;
  }
}
