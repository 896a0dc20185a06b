/** Builds the desktop host's main process and preload, and the browser host. Their renderer is the same: vite.config.ts. */

import { defineConfig } from 'electron-vite';
import { guardLicences } from './scripts/licences/plugins.ts';

export default defineConfig({
  main: {
    plugins: [guardLicences(import.meta.dirname)],
    build: {
      externalizeDeps: false,
      rolldownOptions: { input: ['src/main/electron.ts', 'src/main/serve.ts'] },
    },
  },
  preload: {
    plugins: [guardLicences(import.meta.dirname)],
    build: {
      externalizeDeps: false,
      // A sandboxed preload is one CommonJS file that requires nothing but Electron itself.
      rolldownOptions: {
        input: 'src/main/preload.ts',
        output: { format: 'cjs', entryFileNames: '[name].cjs' },
      },
    },
  },
});
