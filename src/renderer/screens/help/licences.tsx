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
          {/* Wide lines are scrolled, by keyboard too. */}
          {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls must be reached by keyboard */}
          <pre tabIndex={0}>{text}</pre>
        </details>
      ))}
    </>
  );
}
