/** How far an import is, how to end it, and what was not imported. */

import type { ImportState } from '../prepare/import-charts.ts';

interface ImportNoticeProps {
  readonly state: ImportState;
  readonly onCancel: () => void;
  readonly onRead: () => void;
}

export function ImportNotice({ state, onCancel, onRead }: ImportNoticeProps) {
  const { total, read, chartIds, told, finished } = state;
  // One chart without a remark shows that it is there by being opened.
  if (finished && total === 1 && told.length === 0) return null;
  const left = total - read;
  return (
    <div className="notice" role={told.length > 0 ? 'alert' : 'status'}>
      {!finished && (
        <p>
          <progress max={total} value={read} aria-label="Files read" /> {read} of {total} files{' '}
          <button type="button" onClick={onCancel}>
            Cancel the import
          </button>
        </p>
      )}
      {finished && (
        <p>
          {chartIds.length === 1 ? '1 chart' : `${chartIds.length} charts`} imported
          {left > 0 && `, ${left} files left out when the import was cancelled`}.{' '}
          <button type="button" onClick={onRead}>
            I have read this
          </button>
        </p>
      )}
      {told.length > 0 && <p className="told-list">{told.join('\n')}</p>}
    </div>
  );
}
