import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { existsSync } from 'node:fs';
import { readdir, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, test as it, vi } from 'vitest';
import { isAlive } from '../../src/database/embedded/cluster-location.js';
import { isRoot } from '../../src/database/embedded/os-user.js';
import { type Embedded, eraseEmbedded, startEmbedded } from '../../src/database/embedded/server.js';
import { folder, postmasterOf, query, user } from '../support/embedded.js';
import { PATIENCE } from '../support/patience.js';
import { SMALL } from '../support/server.js';

const options = { settings: SMALL };
const said: string[] = [];
const log = (line: string) => void said.push(line);

describe('a database in a data folder', () => {
  let data: string;
  let server: Embedded;
  beforeAll(async () => {
    data = await folder();
    server = await startEmbedded(data, log, options);
  });
  afterAll(() => server.stop());

  it('speaks UTF-8 and UTC and sorts alike everywhere', async () => {
    const [settings] = await query(
      server.url,
      `SELECT current_setting('server_encoding') AS encoding, current_setting('TimeZone') AS zone,
              current_setting('data_checksums') AS checksums, datlocprovider AS provider, datlocale AS locale
         FROM pg_database WHERE datname = current_database()`,
    );
    expect(settings).toEqual({ encoding: 'UTF8', zone: 'UTC', checksums: 'on', provider: 'b', locale: 'C.UTF-8' });
    expect(await query(server.url, `SELECT upper('żółć') AS upper`)).toEqual([{ upper: 'ŻÓŁĆ' }]);
  });

  it('is entered with its password only, over loopback only', async () => {
    const wrong = server.url.replace(/:[^:@]*@/, ':guess@');
    await expect(query(wrong, 'SELECT 1')).rejects.toMatchObject({ code: '28P01' });
    expect(await query(server.url, 'SHOW listen_addresses')).toEqual([{ listen_addresses: '127.0.0.1' }]);
    expect((await stat(join(data, 'postgres', 'password'))).mode & 0o777).toBe(0o600);
    const password = await readFile(join(data, 'postgres', 'password'), 'utf8');
    expect(password).toMatch(/^[\w-]{32}$/);
    expect(said.join()).not.toContain(password);
  });

  it('logs no statement and no value that somebody wrote', async () => {
    await query(server.url, 'CREATE TABLE person (email text PRIMARY KEY)');
    const twice = `INSERT INTO person VALUES ('ines@example.org'), ('ines@example.org')`;
    await expect(query(server.url, twice)).rejects.toMatchObject({ code: '23505' });
    const written = await readFile(join(data, 'postgres', 'server.log'), 'utf8');
    expect(written).toContain('duplicate key');
    expect(written).not.toContain('ines');
  });

  it('keeps what it holds and its port over a stop and a start', async () => {
    await query(server.url, 'CREATE TABLE kept AS SELECT 1 AS pot');
    await server.stop();
    expect(postmasterOf(join(data, 'postgres'))).toBe(0);
    const before = server.url;
    server = await startEmbedded(data, log, options);
    expect(server.url).toBe(before);
    expect(await query(server.url, 'TABLE kept')).toEqual([{ pot: 1 }]);
  });

  it('starts on another port where its own is taken', async () => {
    await server.stop();
    const { createServer } = await import('node:net');
    const squatter = createServer().listen(Number(new URL(server.url).port), '127.0.0.1');
    const before = server.url;
    server = await startEmbedded(data, log, options);
    squatter.close();
    expect(server.url).not.toBe(before);
    expect(await query(server.url, 'TABLE kept')).toEqual([{ pot: 1 }]);
  });

  it('is not erased under somebody who uses it', async () => {
    await expect(eraseEmbedded(data, log)).rejects.toThrow(/in use\. Stop the other/);
    expect(await query(server.url, 'TABLE kept')).toEqual([{ pot: 1 }]);
    await server.stop();
    await eraseEmbedded(data, log);
    expect(await readdir(data)).toEqual([]);
    server = await startEmbedded(data, log, options);
    await expect(query(server.url, 'TABLE kept')).rejects.toThrow(/does not exist/);
  });
});

describe('several processes over one folder', () => {
  it('share one server, made once, which the last of them stops', async () => {
    const data = await folder();
    const [first, second] = [user(data), user(data)];
    expect(await first.url).toBe(await second.url);
    expect(await readdir(data)).toEqual(['postgres']);
    const pid = postmasterOf(join(data, 'postgres'));

    await first.stop();
    expect(first.said.at(-1)).toMatch(/still used by another process/);
    expect(isAlive(pid)).toBe(true);
    expect(await query(await second.url, 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
    await second.stop();
    expect(postmasterOf(join(data, 'postgres'))).toBe(0);
  });

  it('never leave a server behind, nor a newcomer without one, when all come and go at once', async () => {
    const data = await folder();
    const come = async () => {
      const server = await startEmbedded(data, log, options);
      expect(await query(server.url, 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
      await server.stop();
    };
    for (let round = 0; round < 2; round++) await Promise.all([come(), come(), come()]);
    expect(postmasterOf(join(data, 'postgres'))).toBe(0);
  });
});

describe('after kill -9', () => {
  it('of the program, the next one adopts the server, and stops it', async () => {
    const data = await folder();
    const killed = user(data);
    const url = await killed.url;
    const pid = postmasterOf(join(data, 'postgres'));
    killed.process.kill('SIGKILL');

    const next = await startEmbedded(data, log, options);
    expect(next.url).toBe(url);
    expect(postmasterOf(join(data, 'postgres'))).toBe(pid);
    await next.stop();
    expect(postmasterOf(join(data, 'postgres'))).toBe(0);
  });

  it('of the server, a living program gets it back with all that was committed, and so does the next', async () => {
    const data = await folder();
    const living = user(data);
    await query(await living.url, 'CREATE TABLE acknowledged AS SELECT 1 AS pot');
    const pid = postmasterOf(join(data, 'postgres'));
    process.kill(pid, 'SIGKILL');
    await living.says(/PostgreSQL is back\./);
    expect(postmasterOf(join(data, 'postgres'))).not.toBe(pid);
    expect(await query(await living.url, 'TABLE acknowledged')).toEqual([{ pot: 1 }]);

    living.process.kill('SIGKILL');
    process.kill(postmasterOf(join(data, 'postgres')), 'SIGKILL');
    const next = await startEmbedded(data, log, options);
    expect(await query(next.url, 'TABLE acknowledged')).toEqual([{ pot: 1 }]);
    await next.stop();
  });

  it('of one of its sessions, the program still counts as a user', async () => {
    const data = await folder();
    const [server, other] = [await startEmbedded(data, log, options), user(data)];
    const url = await other.url;
    await query(
      server.superuserUrl,
      `SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE application_name = 'wareboard keeper'`,
    );
    await other.says(/PostgreSQL is back\./);
    await vi.waitFor(() => expect(said.at(-1)).toBe('PostgreSQL is back.'), PATIENCE);
    await server.stop();
    expect(await query(url, 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
    await other.stop();
    expect(postmasterOf(join(data, 'postgres'))).toBe(0);
  });

  it('of a program that was making the database, the next one begins anew and clears up', async () => {
    const data = await folder();
    const killed = user(data);
    while (!(await readdir(data)).some((name) => name.includes('.new-'))) await sleep(5);
    await sleep(200); // in the middle of initdb
    killed.process.kill('SIGKILL');
    await once(killed.process, 'exit'); // as long as the system still knows it, what it began counts as somebody's
    expect(existsSync(join(data, 'postgres'))).toBe(false);

    const next = await startEmbedded(data, log, options);
    expect(await query(next.url, 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
    await next.stop();
    expect(await readdir(data)).toEqual(['postgres']);
  });

  it('of the whole machine, a process that has got the number of the old server is no obstacle', async () => {
    const data = await folder();
    await (await startEmbedded(data, log, options)).stop();
    const cluster = join(data, 'postgres', 'cluster');
    const { uid, gid } = await stat(cluster);
    const stranger = spawn('sleep', ['60'], isRoot() ? { uid, gid } : {});
    await writeFile(join(cluster, 'postmaster.pid'), `${stranger.pid}\n${cluster}\n1700000000\n54321\n\n127.0.0.1\n`);

    const next = await startEmbedded(data, log, options);
    expect(await query(next.url, 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
    await next.stop();
    expect(stranger.exitCode ?? stranger.signalCode).toBeNull();
    stranger.kill();
  });
});

describe('in odd circumstances', () => {
  it('an empty postmaster.pid, as a broken machine or a server that is just starting leaves it, is waited out', async () => {
    const data = await folder();
    await (await startEmbedded(data, log, options)).stop();
    await writeFile(join(data, 'postgres', 'cluster', 'postmaster.pid'), '');
    const server = await startEmbedded(data, log, options);
    expect(await query(server.url, 'SELECT 1 AS pot')).toEqual([{ pot: 1 }]);
    await server.stop();
  });

  it('Ctrl-C reaches the program and not the server, so that requests can drain', async () => {
    const data = await folder();
    const program = user(data);
    const url = await program.url;
    process.kill(-(program.process.pid as number), 'SIGINT'); // what a terminal does: the whole group
    await program.says(/interrupted/);
    await sleep(300);
    expect(await query(url, 'SELECT 1 AS one')).toEqual([{ one: 1 }]);
    await program.stop();
    expect(postmasterOf(join(data, 'postgres'))).toBe(0);
  });

  it.each([
    ['without LANG, PATH or HOME', {}],
    [
      'with a language that the machine lacks, and settings and libraries of another PostgreSQL',
      { LANG: 'xx_YY.nonsense', LC_ALL: 'de_DE', PGDATA: '/nowhere', PGPORT: '1', PGUSER: 'x', TZ: 'Asia/Tokyo' },
    ],
  ])('it is the same %s', async (_, given) => {
    const [data, libraries] = [await folder(), await folder()];
    await writeFile(join(libraries, 'libxml2.so.2'), 'no library');
    const env = 'PGDATA' in given ? { ...given, LD_LIBRARY_PATH: libraries } : given;
    const program = user(data, { env });
    const [settings] = await query(
      await program.url,
      `SELECT current_setting('server_encoding') AS encoding, current_setting('TimeZone') AS zone, current_setting('lc_messages') AS messages`,
    );
    expect(settings).toEqual({ encoding: 'UTF8', zone: 'UTC', messages: 'C' });
    await program.stop();
  });

  it('a data folder that is a file is refused with a line that says what to do', async () => {
    const file = join(await folder(), 'file');
    await writeFile(file, '');
    await expect(startEmbedded(file, log, options)).rejects.toThrow(
      /^The data folder .* can't be made \(EEXIST\)\. Name another in WAREBOARD_DATA\.$/,
    );
  });

  it('a server that can not start says why', async () => {
    const data = await folder();
    await (await startEmbedded(data, log, options)).stop();
    await rm(join(data, 'postgres', 'cluster', 'global', 'pg_control'));
    await expect(startEmbedded(data, log, options)).rejects.toThrow(
      /did not start: .*(pg_control|find the database system).*\(more in .*server\.log\)$/,
    );
  });
});
