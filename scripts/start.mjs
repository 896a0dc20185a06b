// Until the window is there, starting the program shows its heart: a demo take, graded.
import { spawnSync } from 'node:child_process';
import { join } from 'node:path';

const root = join(import.meta.dirname, '..');
const grade = join(root, 'src', 'main', 'grade.ts');
const take = join('shared', 'demo-takes', 'late-at-seven.mid');
const chart = join('shared', 'charts', 'boiler-room-blues.chart');

process.stdout.write(`npm run --silent grade -- ${take} --chart ${chart}\n\n`);
const run = spawnSync(process.execPath, [grade, take, '--chart', chart], {
  cwd: root,
  stdio: 'inherit',
});
process.exitCode = run.status ?? 1;
