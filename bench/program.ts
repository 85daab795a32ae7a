import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';

const MAIN = fileURLToPath(new URL('../dist/main.js', import.meta.url));

export type Served = { base: string; email: string; password: string; what: string; stop(): Promise<void> };

/** Who owns the invented studio (seeds-demo). */
const OWNER = { email: 'mara@alderlane.example', password: 'alder lane demo' };

/**
 * The built program over the data folder GROWTH_DATA, which must not be served already; over a demo of its own where none is named. The
 * one who signs in there is BENCH_EMAIL with BENCH_PASSWORD, else the invented studio's owner.
 */
export async function serveStudio(): Promise<Served> {
  const { GROWTH_DATA, BENCH_EMAIL = OWNER.email, BENCH_PASSWORD = OWNER.password } = process.env;
  const own = GROWTH_DATA ? undefined : await mkdtemp(join(tmpdir(), 'wareboard-bench-'));
  const { base, stop } = await startProgram(own ? 'demo' : 'serve', GROWTH_DATA ?? own ?? '');
  return {
    ...{ base, email: BENCH_EMAIL, password: BENCH_PASSWORD, what: GROWTH_DATA ?? 'a demo of its own' },
    async stop() {
      await stop();
      if (own) await rm(own, { recursive: true, force: true });
    },
  };
}

/** What it says once it does nothing but serve. */
const SERVES = /(?:Wareboard|The desk) is at (http:\/\/127\.0\.0\.1:\d+)/;

/** Starts the built program as a process of its own. It returns once that says where it serves, in words that `says` finds. */
export async function startProgram(command: 'demo' | 'serve', dataFolder: string, says = SERVES) {
  const env = { ...process.env, WAREBOARD_DATA: dataFolder, PORT: '0', LOG_LEVEL: 'warn' };
  const child = spawn(process.execPath, [MAIN, command], { env, stdio: ['ignore', 'pipe', 'inherit'] });
  const ended = once(child, 'close');
  let said = '';
  child.stdout.setEncoding('utf8').on('data', (text) => {
    said += text; // read to the end, or the program would wait for somebody to take what it says
  });
  const stop = async () => {
    child.kill('SIGTERM');
    await ended;
  };
  for (let isOver = false; ; ) {
    const [, base] = said.match(says) ?? [];
    if (base) return { base, stop };
    if (isOver) throw new Error(`The program ended before it served anything:\n${said}`);
    isOver = await Promise.race([once(child.stdout, 'data').then(() => false), ended.then(() => true)]);
  }
}
