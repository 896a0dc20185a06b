/** What can be done with a chart beside playing it: change it, copy it, sort it, save it as a file, delete it. */

import { useState } from 'react';
import type { ChartRow } from '../../../../shared/bridge/index.ts';
import { applyEdits, editHeader, parseChart } from '../../../core/chart/index.ts';
import { describeMelodyMisfit, fitMelody } from '../../../core/melody/index.ts';
import { useProgram } from '../../app/program.tsx';
import { refusalWords } from '../../app/refusal-words.ts';
import { fileName, saveFile, saveMusicXml } from '../../app/save-file.ts';
import { FailureNotice } from '../../look/failure-notice.tsx';

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
    const kept = await bridge.ask('charts.melody', { chartId });
    if (!kept.ok) return setFailure(refusalWords(kept.refusal));
    const { melody } = kept.value;
    const saved = await bridge.ask('charts.add', { charts: [{ title: name, text: copy, melody }] });
    const [copied] = saved.ok ? saved.value.chartIds : [];
    if (copied !== undefined) onChart(copied);
    if (!saved.ok) setFailure(refusalWords(saved.refusal));
  }

  async function tag(next: readonly string[]): Promise<void> {
    const reply = await bridge.ask('charts.tag', { chartId, tags: next });
    setFailure(reply.ok ? null : refusalWords(reply.refusal));
  }

  async function saveScore(): Promise<void> {
    const parsed = parseChart(text);
    if (!parsed.ok)
      return setFailure('The chart has problems. Mend them, then save it as MusicXML.');
    const kept = await bridge.ask('charts.melody', { chartId });
    if (!kept.ok) return setFailure(refusalWords(kept.refusal));
    const { melody } = kept.value;
    const fitted = melody === null ? null : fitMelody(parsed.value, melody);
    const { writeMusicXml } = await import('../../../core/chart/musicxml/index.ts');
    const score = writeMusicXml(parsed.value, fitted?.ok === true ? fitted.value : null);
    saveMusicXml(fileName(title), score);
    setFailure(
      fitted === null || fitted.ok
        ? null
        : `The chords were saved without the melody. ${fitted.problems.map(describeMelodyMisfit).join(' ')}`,
    );
  }

  async function remove(): Promise<void> {
    const reply = await bridge.ask('charts.delete', { chartId });
    setFailure(reply.ok ? null : refusalWords(reply.refusal));
  }

  return (
    <>
      <FailureNotice words={failure} />
      <div className="row chart-actions">
        <button type="button" onClick={() => onEdit(chartId)}>
          Edit chart, palettes and plans
        </button>
        <button type="button" onClick={() => void duplicate()}>
          Duplicate
        </button>
        <button
          type="button"
          onClick={() => saveFile(`${fileName(title)}.changes`, text, 'text/plain')}
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
