/** Builds the desktop host's main process and preload, the browser host, and the commands. Their renderer is the same: vite.config.ts. */

import { defineConfig } from 'electron-vite';
import { guardLicences } from './scripts/licences/plugins.ts';

export default defineConfig({
  main: {
    plugins: [guardLicences(import.meta.dirname)],
    // The socket library asks for compiled helpers unless it is told that there are none; none are packed.
    define: {
      'process.env.WS_NO_BUFFER_UTIL': '"1"',
      'process.env.WS_NO_UTF_8_VALIDATE': '"1"',
    },
    build: {
      externalizeDeps: false,
      rolldownOptions: {
        input: ['electron', 'serve', 'grade', 'chart', 'line'].map((name) => `src/main/${name}.ts`),
        // CommonJS: to import one of Node's own modules reads all it exports, and with some of them loads what nobody here
        // asks for; a fifth of the browser host's start.
        output: {
          format: 'cjs',
          entryFileNames: '[name].cjs',
          chunkFileNames: 'chunks/[name]-[hash].cjs',
        },
      },
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
