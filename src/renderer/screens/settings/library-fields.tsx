/** The library as a whole: where it is, its backups, and all of it out and in as one file. */

import { useState } from 'react';
import { useProgram } from '../../app/program.tsx';
import { refusalWords } from '../../app/refusal-words.ts';
import { useAnswer } from '../../data/index.ts';
import { ArchiveNotice } from '../../library/archive-notice.tsx';
import { backupWords } from '../../library/library-words.ts';
import { useArchive } from '../../library/use-archive.ts';
import { FailureNotice } from '../../look/failure-notice.tsx';

export function LibraryFields() {
  const { bridge } = useProgram();
  const { value: state } = useAnswer('library.state', {});
  const archive = useArchive(bridge);
  const [failure, setFailure] = useState<string | null>(null);
  const isWorking = archive.state.kind === 'working';
  const unmade = state?.kind === 'open' ? state.problem : null;
  const problem = failure ?? (unmade && refusalWords(unmade));

  async function backUp(): Promise<void> {
    const reply = await bridge.ask('library.backup', {});
    setFailure(reply.ok ? null : refusalWords(reply.refusal));
  }

  return (
    <fieldset>
      <legend>Library</legend>
      <FailureNotice words={problem} />
      {state?.kind === 'open' && (
        <p className="library-place">
          Your charts and takes are in {state.folder}. {backupWords(state)}
        </p>
      )}
      <div className="row">
        <button type="button" onClick={() => void backUp()}>
          Back up now
        </button>
        <button type="button" disabled={isWorking} onClick={() => void archive.exportAll()}>
          Export everything
        </button>
        <label className="field">
          Import an exported library (.zip)
          <input
            type="file"
            accept=".zip,application/zip"
            disabled={isWorking}
            onChange={(event) => {
              const [file] = event.target.files ?? [];
              if (file !== undefined) void archive.importFile(file);
            }}
          />
        </label>
      </div>
      <ArchiveNotice state={archive.state} />
      <p className="soft">
        A backup is made every day by itself. An export is one zip of open files: charts as text,
        takes as MIDI. What is here already is never overwritten by an import.
      </p>
    </fieldset>
  );
}
