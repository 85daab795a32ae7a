import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { fileURLToPath } from 'node:url';
import { afterAll } from 'vitest';

/** Built, as people start it; the set-up of the tests sees that it is what the sources say. */
const MAIN = fileURLToPath(new URL('../../dist/main.js', import.meta.url));
const children = new Set<ChildProcess>();

export interface Program {
  process: ChildProcess;
  /** All that it has printed so far. */
  out(): string;
  /** All that it has said to standard error, its log included. */
  err(): string;
  /** Waits until it has printed something; fails with all it said where it ends before. */
  prints(pattern: RegExp): Promise<RegExpMatchArray>;
  /** Its exit code, or the signal that ended it. */
  ended: Promise<number | NodeJS.Signals>;
}

/** Runs the program as people do, in an environment that holds nothing but `env` and what a process needs. */
export function run(args: string[], env: Record<string, string> = {}, cwd?: string): Program {
  const { PATH = '', HOME = '' } = process.env;
  const child = spawn(process.execPath, [MAIN, ...args], {
    env: { PATH, HOME, LOG_LEVEL: 'warn', ...env },
    stdio: ['ignore', 'pipe', 'pipe'],
    detached: true, // Ctrl-C in the terminal of the tests is not meant for it
    ...(cwd !== undefined && { cwd }),
  });
  children.add(child);
  const said = { out: '', err: '' };
  child.stdout.setEncoding('utf8').on('data', (text) => {
    said.out += text;
  });
  child.stderr.setEncoding('utf8').on('data', (text) => {
    said.err += text;
  });
  const ended = once(child, 'close').then(([code, signal]) => (code ?? signal) as number | NodeJS.Signals);
  const prints = async (pattern: RegExp): Promise<RegExpMatchArray> => {
    for (;;) {
      const match = said.out.match(pattern);
      if (match) return match;
      const more = await Promise.race([once(child.stdout, 'data').then(() => true), ended.then(() => false)]);
      if (!more && !pattern.test(said.out))
        throw new Error(`It ended before it printed ${pattern}:\n${said.out}\n${said.err}`);
    }
  };
  return { process: child, out: () => said.out, err: () => said.err, prints, ended };
}

afterAll(() => {
  for (const child of children) if (child.exitCode === null && child.signalCode === null) child.kill('SIGKILL');
});
