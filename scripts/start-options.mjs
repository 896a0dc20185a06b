// What may follow `npm start --`, and what is said of it.
import { parseArgs } from 'node:util';
import { dataFolder } from '../src/main/data-folder.ts';

const OPTIONS = {
  browser: { type: 'boolean' },
  'no-open': { type: 'boolean' },
  help: { type: 'boolean', short: 'h' },
};

/** The options given, the files to be opened after them; or, for an unknown option, the sentence that says so. */
export function readStartOptions(words) {
  try {
    const { values, positionals } = parseArgs({
      args: [...words],
      options: OPTIONS,
      allowPositionals: true,
    });
    return { options: values, files: positionals };
  } catch (error) {
    // Node's sentence names the option and goes on about how to pass a file of that name.
    const [sentence = ''] = error.message.split('. ');
    return { problem: `${sentence.replace(/\.$/, '')}. All options: npm start -- --help` };
  }
}

export function usage() {
  return `Usage: npm start [-- OPTIONS [FILES]]

Starts Linekeeper in its own window, or in the browser where Electron cannot be had. When it runs already,
the window or page that is open is shown, and no other one is opened.

Options
  --browser   starts it in the browser: prints an address of this machine and opens it
  --no-open   starts it in the browser and opens nothing: the address that is printed opens the page
  -h, --help  prints this

Files end in .changes, .chart, .musicxml, .mxl, .mid or .linekeeper; they are opened in the window.

Environment
  LINEKEEPER_DATA  the folder of the library, the backups and all else that is kept
                   here now: ${dataFolder(process.env, process.platform)}
`;
}
