import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { chmod, mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { startEmbedded } from '../../src/database/embedded/server.js';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
/** As `npm start` runs it: its settings are those of package.json. */
const START = 'scripts/start.mjs';

/** What the system says a process has in memory now, and had at most, in MB. */
export type Memory = { now: number; most: number };

/** The built program over a demo of its own, in a process of its own, as `npm start` starts it. */
export async function startServer() {
  const data = await mkdtemp(join(tmpdir(), 'wareboard-memory-'));
  await chmod(data, 0o755); // the server of a root runs as another user
  const env = { ...process.env, WAREBOARD_DATA: data, PORT: '0', LOG_LEVEL: 'warn', TRUST_PROXY: 'true' };
  const loading = spawn(process.execPath, [START, 'demo', '--once'], { cwd: ROOT, env, stdio: 'ignore' });
  if ((await once(loading, 'close'))[0] !== 0) throw new Error('The demo could not be loaded.');

  const { scripts } = JSON.parse(await readFile(join(ROOT, 'package.json'), 'utf8')) as { scripts: { start: string } };
  const [program, ...args] = scripts.start.split(' ');
  if (program !== 'node')
    throw new Error(`npm start runs ${program}: what it has in memory can't be told by its process.`);
  const child = spawn(process.execPath, args, { cwd: ROOT, env, stdio: ['ignore', 'pipe', 'inherit'] });
  const base = await addressOf(child);
  const database = await startEmbedded(join(data, 'database'), () => undefined); // which runs already
  return {
    ...{ base, data, args, database, memory: () => memoryOf(child.pid ?? 0) },
    async stop() {
      const ended = once(child, 'close');
      child.kill('SIGTERM');
      await ended;
      await database.stop();
      await rm(data, { recursive: true, force: true });
    },
  };
}

async function addressOf({ stdout }: ChildProcess): Promise<string> {
  let said = '';
  stdout?.setEncoding('utf8').on('data', (text) => {
    said += text; // read to the end, or the program would wait for somebody to take what it says
  });
  for (;;) {
    const [, base] = said.match(/Wareboard is at (http:\S+)/) ?? [];
    if (base) return base;
    if (stdout?.readableEnded) throw new Error(`The program ended before it served anything:\n${said}`);
    await Promise.race([
      once(stdout as NonNullable<typeof stdout>, 'data'),
      once(stdout as NonNullable<typeof stdout>, 'end'),
    ]);
  }
}

/** PostgreSQL's processes are not counted: it has a cache of its own, which it sizes itself. */
async function memoryOf(pid: number): Promise<Memory> {
  const status = await readFile(`/proc/${pid}/status`, 'utf8');
  const megabytes = (name: string) => Number(status.match(new RegExp(`^${name}:\\s+(\\d+) kB`, 'm'))?.[1]) / 1024;
  return { now: megabytes('VmRSS'), most: megabytes('VmHWM') };
}
