/** What the program is made of, and under which licences. */

import licences from 'linekeeper:licences';

export default function Licences() {
  return (
    <>
      <p>
        Linekeeper stands on the work of others. On the desktop it also contains Chromium and
        Node.js, as parts of Electron.
      </p>
      {licences.map(({ name, version, licence, text }) => (
        <details key={`${name} ${version}`} className="licence">
          <summary>
            {name} {version} <span className="soft">{licence}</span>
          </summary>
          {/* A field, so that a long text is scrolled by keyboard too. */}
          <textarea readOnly rows={16} aria-label={`Licence of ${name}`} value={text} />
        </details>
      ))}
    </>
  );
}
