import { type ChildProcess, spawn } from 'node:child_process';
import { once } from 'node:events';
import { readFileSync } from 'node:fs';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { fileURLToPath } from 'node:url';
import pg from 'pg';
import { afterAll, afterEach } from 'vitest';
import { makeScratchFolder } from './scratch-folder.js';
import { SMALL } from './server.js';

const SCRIPT = fileURLToPath(new URL('./embedded-process.mjs', import.meta.url));
const children = new Set<ChildProcess>();
const folders: string[] = [];

/** A folder of its own for one test, which other users may enter. */
export async function folder(): Promise<string> {
  const made = await makeScratchFolder('embedded');
  folders.push(made);
  return made;
}

export interface User {
  /** Its address once it has the server; rejects where it was refused. */
  url: Promise<string>;
  /** What it has logged so far. */
  said: string[];
  /** Waits until it has said something. */
  says(pattern: RegExp): Promise<string>;
  process: ChildProcess;
  /** Lets go of the server and ends. */
  stop(): Promise<void>;
}

export interface Circumstances {
  env?: NodeJS.ProcessEnv;
  uid?: number;
  gid?: number;
  elsewhere?: string;
  binaries?: string;
}

/** Another process that uses the embedded server of this data folder. */
export function user(dataFolder: string, circumstances: Circumstances = {}): User {
  const { env, elsewhere, binaries, ...who } = circumstances;
  const options = JSON.stringify({ settings: SMALL, elsewhere, binaries });
  const child = spawn(process.execPath, [SCRIPT, dataFolder, options], {
    env: env ?? process.env,
    detached: true, // a group of its own, as under a terminal
    stdio: ['pipe', 'pipe', 'inherit'],
    ...who,
  });
  children.add(child);
  const lines = createInterface({ input: child.stdout as NodeJS.ReadableStream });
  const said: string[] = [];
  lines.on('line', (line) => said.push(line));
  const ended = once(child, 'exit');
  const says = async (pattern: RegExp): Promise<string> => {
    for (;;) {
      const line = said.find((each) => pattern.test(each));
      if (line) return line;
      const more = await Promise.race([once(lines, 'line'), ended.then(() => undefined)]);
      if (!more && !said.some((each) => pattern.test(each))) throw new Error(said.join('\n'));
    }
  };
  const url = says(/^url /).then((line) => line.slice(4));
  url.catch(() => undefined); // whoever cares awaits it
  const stop = async () => {
    child.stdin?.end();
    await ended;
  };
  return { url, said, says, process: child, stop };
}

afterEach(async () => {
  for (const child of children) if (child.exitCode === null && child.signalCode === null) child.kill('SIGKILL');
  children.clear();
});

// Said here and not where a folder is made: within a test, vitest hears no afterAll.
afterAll(async () => {
  for (const made of folders) await rm(made, { recursive: true, force: true, maxRetries: 5 });
});

/** The server's process on a cluster, or 0 where postmaster.pid is absent. */
export function postmasterOf(lodging: string): number {
  try {
    return Number.parseInt(readFileSync(join(lodging, 'cluster', 'postmaster.pid'), 'utf8'), 10);
  } catch {
    return 0;
  }
}

/** Rows of one query, on a connection of its own. */
export async function query(url: string, sql: string): Promise<unknown[]> {
  const client = new pg.Client({ connectionString: url });
  client.on('error', () => undefined);
  await client.connect();
  try {
    return (await client.query(sql)).rows;
  } finally {
    await client.end();
  }
}
