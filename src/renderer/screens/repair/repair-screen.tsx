/** In the place of all screens while the library is damaged: what is wrong, and what can be done. */

import { useState } from 'react';
import type { Bridge, LibraryState } from '../../../../shared/bridge/index.ts';
import { tellRefusal } from '../../../../shared/refusal-words.ts';
import { refusalWords } from '../../app/refusal-words.ts';
import { ArchiveNotice } from '../../library/archive-notice.tsx';
import { chartsAndTakes, whenWords } from '../../library/library-words.ts';
import { useArchive } from '../../library/use-archive.ts';
import { FailureNotice } from '../../look/failure-notice.tsx';

interface RepairProps {
  readonly bridge: Bridge;
  readonly state: Extract<LibraryState, { kind: 'damaged' }>;
}

export default function RepairScreen({ bridge, state }: RepairProps) {
  const archive = useArchive(bridge);
  const [repaired, setRepaired] = useState<Repaired | null>(null);
  const [failure, setFailure] = useState<string | null>(null);
  const [isSure, setSure] = useState(false);
  const { backup, damagedBackups, folder } = state;
  const isWorking = archive.state.kind === 'working';

  async function restore(name: string): Promise<void> {
    const reply = await bridge.ask('library.restore', { name });
    if (reply.ok) setRepaired({ how: 'The backup is restored.', aside: reply.value.folder });
    else setFailure(refusalWords(reply.refusal));
  }
  async function beginNew(): Promise<void> {
    const reply = await bridge.ask('library.beginNew', {});
    if (reply.ok) setRepaired({ how: 'There is a new, empty library.', aside: reply.value.folder });
    else setFailure(refusalWords(reply.refusal));
  }

  return (
    <main className="page">
      <h1>Linekeeper</h1>
      {repaired !== null ? (
        <RepairedWords folder={folder} repaired={repaired} />
      ) : (
        <>
          <h2>Your library cannot be opened</h2>
          <p className="notice library-place" role="alert">
            {tellRefusal(state.what).message}
          </p>
          <p className="library-place">
            It is in {folder}. Nothing is deleted, whatever you choose: the damaged library is kept
            in a folder of its own beside the new one.
          </p>
          <FailureNotice words={failure} />
          <fieldset>
            <legend>Save what can be read</legend>
            <p>
              Everything that can still be read of it goes into one zip of open files. It can be
              imported under Settings later. Do this first.
            </p>
            <button type="button" disabled={isWorking} onClick={() => void archive.exportAll()}>
              Export what can be read
            </button>
            <ArchiveNotice state={archive.state} />
          </fieldset>
          <fieldset>
            <legend>Go back to a backup</legend>
            {backup === null ? (
              <p>There is no sound backup.</p>
            ) : (
              <>
                <p>
                  The newest sound backup is of {whenWords(backup.madeAtMs)}, with{' '}
                  {chartsAndTakes(backup.charts, backup.takes)}. What came after it is not in it.
                </p>
                {damagedBackups > 0 && (
                  <p>
                    {damagedBackups === 1
                      ? 'One newer backup is damaged too.'
                      : `${damagedBackups} newer backups are damaged too.`}
                  </p>
                )}
                <button
                  type="button"
                  className="main"
                  disabled={isWorking}
                  onClick={() => void restore(backup.name)}
                >
                  Restore this backup
                </button>
              </>
            )}
          </fieldset>
          <fieldset>
            <legend>Begin anew</legend>
            <p>An empty library takes its place, to which an export can be imported.</p>
            {isSure ? (
              <div className="row">
                <button type="button" disabled={isWorking} onClick={() => void beginNew()}>
                  Yes, begin with an empty library
                </button>
                <button type="button" onClick={() => setSure(false)}>
                  No
                </button>
              </div>
            ) : (
              <button type="button" disabled={isWorking} onClick={() => setSure(true)}>
                Begin with an empty library
              </button>
            )}
          </fieldset>
        </>
      )}
    </main>
  );
}

interface Repaired {
  readonly how: string;
  /** The folder the damaged library is in now. */
  readonly aside: string;
}

function RepairedWords({
  folder,
  repaired,
}: {
  readonly folder: string;
  readonly repaired: Repaired;
}) {
  return (
    <div role="status">
      <h2>{repaired.how}</h2>
      <p className="library-place">
        The damaged library is kept in the folder {repaired.aside} in {folder}.
      </p>
      <button type="button" className="main" onClick={() => window.location.reload()}>
        Open the library
      </button>
    </div>
  );
}
