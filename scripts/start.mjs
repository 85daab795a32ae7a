// Starts the program from dist/, and builds it first where nobody has: install scripts may have been switched off.
import { spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';
import { fileURLToPath } from 'node:url';

const main = new URL('../dist/main.js', import.meta.url);
const lastBuilt = new URL('../dist/desk/index.html', import.meta.url);

if (!existsSync(lastBuilt)) {
  console.error('The program is not built yet. Building it now takes about half a minute.');
  const npm = process.env.npm_execpath; // npm's own script: Windows can't spawn npm.cmd without a shell
  const [command, first] = npm ? [process.execPath, [npm]] : ['npm', []];
  const { status } = spawnSync(command, [...first, 'run', 'build'], {
    cwd: fileURLToPath(new URL('..', import.meta.url)),
    stdio: ['ignore', 'ignore', 'inherit'],
    shell: !npm,
  });
  if (status !== 0) {
    console.error('It could not be built. Run "npm ci" and then "npm run build", and read what that says.');
    process.exit(1);
  }
}
await import(main.href);
