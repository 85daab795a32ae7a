import { execFile } from 'node:child_process';
import { chown, readFile, readlink, realpath, rename, rm, stat, writeFile } from 'node:fs/promises';
import { createServer } from 'node:net';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { CannotStart } from '../../config.js';
import { program } from './binaries.js';
import { type ClusterLocation, isAlive } from './cluster-location.js';
import { runCommandAs } from './run-command.js';

export interface Postmaster {
  pid: number;
  port: number;
}

/** Settings of postgresql.conf, by name; values without spaces or quotes, since a shell lies between. */
export type Settings = Record<string, string>;

const LOG_BYTES_MAX = 5_000_000;
const START_SECONDS_MAX = 300; // replaying the log after a crash takes as long as it takes

const SETTINGS: Settings = {
  listen_addresses: '127.0.0.1',
  unix_socket_directories: '', // a socket's path must be short, and a data folder's may not be
  timezone: 'UTC',
  log_timezone: 'UTC',
  log_checkpoints: 'off',
  // what people wrote stands in failing statements and in details; it stays out of the log
  log_min_error_statement: 'panic',
  log_error_verbosity: 'terse',
};

const EMPTY_MILLISECONDS_MAX = 5_000; // a server fills its postmaster.pid in the moment that it makes it

// Another process was first, or has stopped again what we had started; the remains of a killed server still end; the port was
// taken in between.
const PASSING = /postmaster\.pid"|ready to accept connections|still in use|Address already in use|could not bind/;
// what pg_ctl itself says where it meets a postmaster.pid that another server is just writing
const BEING_WRITTEN = /PID file ".*" is empty|invalid data in PID file/;

const clusterOf = (lodging: ClusterLocation) => join(lodging.folder, 'cluster');
const logOf = (lodging: ClusterLocation) => join(lodging.folder, 'server.log');

/**
 * The server that runs on this cluster, by its own postmaster.pid (process in line 1, port in line 4). After a crash that file
 * may name a process that is now something else, or be empty, and PostgreSQL would then refuse to start: such a file is
 * removed.
 */
export async function findPostmaster(lodging: ClusterLocation): Promise<Postmaster | undefined> {
  const file = join(clusterOf(lodging), 'postmaster.pid');
  const read = () => readFile(file, 'utf8').catch(() => '');
  const text = await read();
  const lines = text.split('\n');
  const [pid, port] = [Number(lines[0]), Number(lines[3])];
  if (!text.trim()) await removeEmpty(file);
  if (!pid || !isAlive(pid)) return undefined; // PostgreSQL itself sees that it is stale
  if (await isPostmaster(pid, clusterOf(lodging))) return port ? { pid, port } : undefined;
  if ((await read()) === text) await rm(file, { force: true }); // else a new server has just written its own
  return undefined;
}

async function removeEmpty(file: string): Promise<void> {
  const { size, mtimeMs } = await stat(file).catch(() => ({ size: 1, mtimeMs: 0 }));
  if (size === 0 && Date.now() - mtimeMs > EMPTY_MILLISECONDS_MAX) await rm(file, { force: true });
}

/** A server works in its cluster's folder. Where the system doesn't show that, its name must do. */
async function isPostmaster(pid: number, cluster: string): Promise<boolean> {
  if (process.platform === 'linux')
    return (await readlink(`/proc/${pid}/cwd`).catch(() => '')) === (await realpath(cluster));
  if (process.platform === 'win32') return true;
  const { stdout } = await promisify(execFile)('ps', ['-o', 'comm=', '-p', String(pid)]);
  return stdout.trim().endsWith('postgres');
}

/**
 * Starts the server on loopback, on the port that it had before or else a free one.
 * @returns false where it did not start because of something that may pass
 * @throws CannotStart with the server's own reason where it can't start
 */
export async function startPostmaster(lodging: ClusterLocation, native: string, settings: Settings): Promise<boolean> {
  const log = logOf(lodging);
  await shorten(log);
  const portFile = join(lodging.folder, 'port');
  const port = await choosePort(Number(await readFile(portFile, 'utf8').catch(() => 0)));
  const before = (await readFile(log, 'utf8').catch(() => '')).length;
  const options = Object.entries({ ...SETTINGS, ...settings, port: String(port) }).map(([k, v]) => `-c ${k}=${v}`);
  const args = ['start', '-w', '-s', '-t', String(START_SECONDS_MAX), '-D', clusterOf(lodging), '-l', log];
  const outcome = await runCommandAs(program(native, 'pg_ctl'), [...args, '-o', options.join(' ')], lodging.owner);
  if (outcome.ok) {
    await writeFile(portFile, `${port}\n`);
    if (lodging.owner) await chown(portFile, lodging.owner.uid, lodging.owner.gid);
    return true;
  }
  const said = (await readFile(log, 'utf8').catch(() => '')).slice(before);
  if (PASSING.test(said) || BEING_WRITTEN.test(outcome.output)) return false;
  const reason = said.split('\n').find((line) => /FATAL|PANIC|ERROR/.test(line)) ?? outcome.output;
  throw new CannotStart(
    `The embedded PostgreSQL did not start: ${reason.replace(/^.*?(FATAL|PANIC|ERROR)/, '$1')} (more in ${log})`,
  );
}

/** Stops the server: running statements are ended and rolled back, everything committed is on disk. */
export async function stopPostmaster(lodging: ClusterLocation, native: string): Promise<void> {
  const args = ['stop', '-m', 'fast', '-w', '-s', '-t', '60', '-D', clusterOf(lodging)];
  const outcome = await runCommandAs(program(native, 'pg_ctl'), args, lodging.owner);
  if (!outcome.ok && (await findPostmaster(lodging)))
    throw new Error(`The embedded PostgreSQL did not stop: ${outcome.output}`);
}

async function shorten(log: string): Promise<void> {
  const { size } = await stat(log).catch(() => ({ size: 0 }));
  if (size > LOG_BYTES_MAX) await rename(log, `${log}.old`);
}

async function choosePort(before: number): Promise<number> {
  return (before && (await freePort(before))) || (await freePort(0)) || before;
}

/** Gives the port if it is free (0: any free one), else undefined. */
function freePort(port: number): Promise<number | undefined> {
  return new Promise((resolve) => {
    const probe = createServer();
    probe.on('error', () => resolve(undefined));
    probe.listen(port, '127.0.0.1', () => {
      const address = probe.address();
      probe.close(() => resolve(address && typeof address === 'object' ? address.port : undefined));
    });
  });
}
