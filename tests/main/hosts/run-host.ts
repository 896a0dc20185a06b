/** A browser host in a process of its own, to be killed: its folders as words, its address on standard output. */

import { startBrowserHost } from '../../../src/main/browser-host.ts';

const [dataFolder = '', sharedFolder = '', rendererFolder = ''] = process.argv.slice(2);
const host = await startBrowserHost({ dataFolder, sharedFolder, rendererFolder, version: '1.2.3' });
process.stdout.write(`${host.url}\n`);
