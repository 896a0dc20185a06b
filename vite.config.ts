/** Builds the renderer, the same for both hosts. */

import react from '@vitejs/plugin-react';
import { defineConfig } from 'vite';
import { guardLicences, shipLicences } from './scripts/licences/plugins.ts';
import { pianoSamples } from './scripts/piano-samples.ts';

export default defineConfig({
  root: 'src/renderer',
  base: './',
  plugins: [
    react(),
    pianoSamples(),
    shipLicences(import.meta.dirname),
    guardLicences(import.meta.dirname),
  ],
  build: {
    outDir: '../../out/renderer',
    emptyOutDir: true,
    assetsInlineLimit: 0,
    rolldownOptions: {
      // Whatever the first screen needs is fetched as one file, and as one whatever the screens need that are soon gone to:
      // on a page of its own machine it is requests that take time.
      output: {
        codeSplitting: {
          groups: [
            { name: 'first', tags: ['$initial'], priority: 1 },
            { name: 'soon', test: /[/\\]screens[/\\](?:play|progress|today|journal|review)[/\\]/ },
          ],
        },
      },
    },
  },
});
