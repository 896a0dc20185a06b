/** Help over whatever screen is there, so that nothing on it is lost. */

import { lazy, Suspense, useEffect, useRef, useState } from 'react';
import type { Screen } from '../../app/screen.ts';
import { HELP } from './help-words.ts';
import './help.css';

/** Long texts that few ask for: fetched when they do. */
const Licences = lazy(() => import('./licences.tsx'));

interface HelpDialogProps {
  readonly screen: Screen['name'];
  readonly onClose: () => void;
}

export default function HelpDialog({ screen, onClose }: HelpDialogProps) {
  const dialog = useRef<HTMLDialogElement>(null);
  const [areLicencesOpen, setLicencesOpen] = useState(false);
  const { title, paragraphs, words } = HELP[screen];
  const head = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    dialog.current?.showModal();
    // Of itself the focus would go to the first button, which stands below all there is to read.
    head.current?.focus();
  }, []);
  return (
    <dialog ref={dialog} onClose={onClose} aria-labelledby="help-title">
      <h2 id="help-title" tabIndex={-1} ref={head}>
        {title}
      </h2>
      {paragraphs.map((paragraph) => (
        <p key={paragraph}>{paragraph}</p>
      ))}
      <dl className="words">
        {words.map(([word, meaning]) => (
          <div key={word} className="word">
            <dt>{word}</dt>
            <dd>{meaning}</dd>
          </div>
        ))}
      </dl>
      <details onToggle={({ currentTarget }) => setLicencesOpen(currentTarget.open)}>
        <summary>Licences</summary>
        {areLicencesOpen && (
          <Suspense fallback={<p>One moment …</p>}>
            <Licences />
          </Suspense>
        )}
      </details>
      <button type="button" className="main" onClick={() => dialog.current?.close()}>
        Close
      </button>
    </dialog>
  );
}
