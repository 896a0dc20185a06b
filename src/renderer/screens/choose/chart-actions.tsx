/** What can be done with a chart beside playing it: change it, copy it, sort it, save it as a file, delete it. */

import { useState } from 'react';
import type { ChartRow } from '../../../../shared/bridge/index.ts';
import { applyEdits, editHeader, parseChart } from '../../../core/chart/index.ts';
import { useProgram } from '../../app/program.tsx';
import { refusalWords } from '../../app/refusal-words.ts';
import { fileName, saveFile, saveMusicXml } from '../../app/save-file.ts';

interface ChartActionsProps {
  readonly chart: ChartRow;
  readonly onChart: (chartId: string) => void;
  readonly onEdit: (chartId: string) => void;
}

/** The words between commas, without empty ones and doubles. */
export function readTags(text: string): readonly string[] {
  return [...new Set(text.split(',').map((tag) => tag.trim().slice(0, 60)))].filter(Boolean);
}

export function ChartActions({ chart, onChart, onEdit }: ChartActionsProps) {
  const { bridge } = useProgram();
  const [failure, setFailure] = useState<string | null>(null);
  const { chartId, title, text, builtIn, tags } = chart;

  async function duplicate(): Promise<void> {
    const name = `${title}, copy`;
    const copy = applyEdits(text, [editHeader(text, 'title', name)]);
    const saved = await bridge.ask('charts.save', { chartId: null, title: name, text: copy });
    if (saved.ok) onChart(saved.value.chartId);
    else setFailure(refusalWords(saved.refusal));
  }

  async function tag(next: readonly string[]): Promise<void> {
    const reply = await bridge.ask('charts.tag', { chartId, tags: next });
    setFailure(reply.ok ? null : refusalWords(reply.refusal));
  }

  async function saveScore(): Promise<void> {
    const parsed = parseChart(text);
    if (!parsed.ok)
      return setFailure('The chart has problems. Mend them, then save it as MusicXML.');
    const { writeMusicXml } = await import('../../../core/chart/musicxml/index.ts');
    saveMusicXml(fileName(title), writeMusicXml(parsed.value));
  }

  async function remove(): Promise<void> {
    const reply = await bridge.ask('charts.delete', { chartId });
    setFailure(reply.ok ? null : refusalWords(reply.refusal));
  }

  return (
    <>
      {failure !== null && (
        <p className="notice" role="alert">
          {failure}
        </p>
      )}
      <div className="row chart-actions">
        <button type="button" onClick={() => onEdit(chartId)}>
          Edit chart, palettes and plans
        </button>
        <button type="button" onClick={() => void duplicate()}>
          Duplicate
        </button>
        <button
          type="button"
          onClick={() => saveFile(`${fileName(title)}.chart`, text, 'text/plain')}
        >
          Save as chart text
        </button>
        <button type="button" onClick={() => void saveScore()}>
          Save as MusicXML
        </button>
        {!builtIn && (
          <button type="button" onClick={() => void remove()}>
            Delete this chart
          </button>
        )}
        <label className="field">
          Tags, with commas between
          <input
            key={tags.join()}
            type="text"
            defaultValue={tags.join(', ')}
            onBlur={(event) => {
              const next = readTags(event.target.value);
              if (next.join() !== tags.join()) void tag(next);
            }}
            onKeyDown={(event) => {
              if (event.key === 'Enter') event.currentTarget.blur();
            }}
          />
        </label>
      </div>
    </>
  );
}
