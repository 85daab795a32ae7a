import { spawn } from 'node:child_process';
import { parse } from 'node:path';

/** The operating-system user who runs the server where the program itself runs as root, which PostgreSQL refuses. */
export interface OsUser {
  name: string;
  uid: number;
  gid: number;
}

/** One line about what was done, for the person who started the program. */
export type Log = (line: string) => void;

export interface CommandOutcome {
  ok: boolean;
  /** What the command printed, both streams, trimmed. */
  output: string;
}

// Nothing is inherited: without a LANG, with a strange one, or with PG* variables set, the same must happen.
const ENVIRONMENT: NodeJS.ProcessEnv =
  process.platform === 'win32'
    ? { LC_ALL: 'C', TZ: 'UTC', PATH: process.env.PATH, SystemRoot: process.env.SystemRoot, TEMP: process.env.TEMP }
    : { LC_ALL: 'C', TZ: 'UTC', PATH: '/usr/bin:/bin' };

/** Runs a command to its end, as another user if one is given. A command that can't even begin is an outcome too. */
export function runCommandAs(command: string, args: readonly string[], owner?: OsUser): Promise<CommandOutcome> {
  return new Promise((resolve) => {
    const child = spawn(command, args, {
      env: ENVIRONMENT,
      cwd: parse(command).root, // the working directory may be one that the other user can't enter
      stdio: ['ignore', 'pipe', 'pipe'],
      windowsHide: true,
      ...(owner && { uid: owner.uid, gid: owner.gid }),
    });
    let output = '';
    const keep = (chunk: Buffer) => {
      output += chunk;
    };
    child.stdout.on('data', keep);
    child.stderr.on('data', keep);
    child.on('error', (error) => resolve({ ok: false, output: error.message }));
    // 'close' would never come where the server inherits our pipes, as on Windows; the pause lets the last words arrive
    child.on('exit', (code) => {
      const done = () => {
        clearTimeout(pause);
        child.stdout.destroy();
        child.stderr.destroy();
        resolve({ ok: code === 0, output: output.trim() });
      };
      const pause = setTimeout(done, 300);
      child.on('close', done);
    });
  });
}
