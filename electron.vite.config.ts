/** Builds the desktop host's main process and preload. The renderer is the same for both hosts: vite.config.ts. */

import { defineConfig } from 'electron-vite';

export default defineConfig({
  main: {
    build: {
      externalizeDeps: false,
      rolldownOptions: { input: 'src/main/electron.ts' },
    },
  },
  preload: {
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
