// `npm run package`: builds the program and makes packages of it, for this system unless others are named:
// `-- --linux AppImage`, `-- --mac`, `-- --win`. Words after `--` go to electron-builder as they are; they land in `dist`.
import { buildWhenStale } from './build-when-stale.mjs';
import { step } from './steps.mjs';

buildWhenStale();
await step('packages', 'electron-builder', ['--publish', 'never', ...process.argv.slice(2)]);
