/** Runs in the sandboxed page before anything of the page does. */

import { contextBridge, ipcRenderer } from 'electron';
import { exposeBridge } from './desktop/expose.ts';

exposeBridge(contextBridge, ipcRenderer);
