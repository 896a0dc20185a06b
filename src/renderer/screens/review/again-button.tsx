/** The same practice once more: one press, or the key of the piano that starts a take, so that the hands can stay there. */

import { useProgram } from '../../app/program.tsx';
import { useKeys } from '../../midi/use-keys.ts';
import type { Again } from '../../prepare/play-again.ts';
import { isSignal, startSignalWords } from '../../run/index.ts';

interface AgainButtonProps {
  readonly again: Again;
  readonly onAgain: (again: Again) => void;
}

export function AgainButton({ again, onAgain }: AgainButtonProps) {
  const { settings } = useProgram();
  useKeys((key) => {
    if (isSignal(key, settings.start)) onAgain(again);
  });
  const signal = startSignalWords(settings.start);
  return (
    <>
      <button type="button" className="main" onClick={() => onAgain(again)}>
        Again
      </button>
      {signal !== null && <span className="soft">or {signal}</span>}
    </>
  );
}
