import { randomBytes } from 'node:crypto';
import { chown, link, mkdir, readdir, readFile, rename, rm, stat, writeFile } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { CannotStart } from '../../config.js';
import { candidates, canEnter, isRoot, ownerOf } from './os-user.js';
import type { Log, OsUser } from './run-command.js';

/** Where a cluster lives with all that belongs to it, and who runs its server (undefined: the user of this process). */
export interface ClusterLocation {
  folder: string;
  owner?: OsUser;
}

/** Where clusters go that a server not run by root couldn't reach in the data folder. */
export const ELSEWHERE = '/var/lib/wareboard';

const NOTE = 'database-is-elsewhere.txt';

/** The cluster that belongs to a data folder, or undefined where there is none yet. */
export async function findClusterLocation(dataFolder: string): Promise<ClusterLocation | undefined> {
  const noted = (await readFile(join(dataFolder, NOTE), 'utf8').catch(() => '')).split('\n')[0];
  const folder = noted || join(dataFolder, 'postgres');
  const cluster = join(folder, 'cluster');
  const found = await stat(cluster).catch((error) => {
    if (error.code === 'ENOENT' || error.code === 'ENOTDIR') return undefined;
    throw new CannotStart(`The database in ${folder} can't be read (${error.code}). Start as the user who owns it.`);
  });
  if (!found && noted)
    // an empty studio must never begin in silence where there was a full one
    throw new CannotStart(
      `${join(dataFolder, NOTE)} says that the database is in ${noted}, but it is gone. Put it back, or delete that note to start again.`,
    );
  if (!found) return undefined;
  const owner = await ownerOf(found.uid, found.gid, folder);
  if (owner && !(await canEnter(cluster, owner)))
    throw new CannotStart(
      `The database in ${folder} belongs to user ${owner.name}, who can't enter that folder. Let others pass the folders above it (chmod o+x).`,
    );
  return { folder, owner };
}

/**
 * Makes the lodging of a new cluster: in the data folder, or, where root starts it and no other user can get in there,
 * elsewhere, with a note left in the data folder. `furnish` fills a draft that takes its place only when it is complete, so
 * that neither a kill nor a second process doing the same leaves half a cluster.
 */
export async function makeClusterLocation(
  dataFolder: string,
  elsewhere: string,
  log: Log,
  furnish: (draft: ClusterLocation) => Promise<void>,
): Promise<ClusterLocation> {
  for (const place of await places(dataFolder, elsewhere)) {
    const draft = await makeDraft(place);
    if (!draft) continue;
    try {
      await furnish({ folder: draft, owner: place.owner });
      await moveIn(draft, place.folder);
      if (place.owner) await announce(place, dataFolder, log);
    } finally {
      await rm(draft, { recursive: true, force: true });
    }
    return (await findClusterLocation(dataFolder)) ?? place; // another process may have been first, and then its cluster holds
  }
  throw new CannotStart(
    `PostgreSQL will not run as root, and no other user can use ${dataFolder} or ${elsewhere}. Start Wareboard as an ordinary user, or set DATABASE_URL.`,
  );
}

async function places(dataFolder: string, elsewhere: string): Promise<ClusterLocation[]> {
  await mkdir(dataFolder, { recursive: true }).catch((error) => {
    throw new CannotStart(
      `The data folder ${dataFolder} can't be made (${error.code}). Name another in WAREBOARD_DATA.`,
    );
  });
  const inside = join(dataFolder, 'postgres');
  if (!isRoot()) return [{ folder: inside }];
  const owners = await candidates(dataFolder);
  const outside = join(elsewhere, `${basename(dataFolder)}-${randomBytes(4).toString('hex')}`);
  return [inside, outside].flatMap((folder) => owners.map((owner) => ({ folder, owner })));
}

/** An empty folder beside the place, for its owner alone; undefined where the owner couldn't reach it. */
async function makeDraft({ folder, owner }: ClusterLocation): Promise<string | undefined> {
  const draft = `${folder}.new-${process.pid}-${randomBytes(4).toString('hex')}`;
  try {
    await mkdir(dirname(folder), { recursive: true, mode: 0o755 });
    await clearDead(folder);
    await mkdir(draft, { mode: 0o700 });
    if (!owner) return draft;
    await chown(draft, owner.uid, owner.gid);
    if (await canEnter(draft, owner)) return draft;
  } catch (error) {
    if (!owner) throw new CannotStart(`The folder ${draft} can't be made: ${(error as Error).message}.`);
  }
  await rm(draft, { recursive: true, force: true });
  return undefined;
}

/** Drafts of processes that were killed over them. */
async function clearDead(folder: string): Promise<void> {
  for (const name of await readdir(dirname(folder))) {
    const [, maker] = name.match(/\.new-(\d+)-[0-9a-f]{8}$/) ?? [];
    if (maker && name.startsWith(`${basename(folder)}.new-`) && !isAlive(Number(maker)))
      await rm(join(dirname(folder), name), { recursive: true, force: true });
  }
}

async function moveIn(draft: string, folder: string): Promise<void> {
  await rename(draft, folder).catch(async (error) => {
    if (!(await stat(join(folder, 'cluster')).catch(() => undefined))) throw error;
  });
}

async function announce({ folder, owner }: ClusterLocation, dataFolder: string, log: Log): Promise<void> {
  if (dirname(folder) === dataFolder)
    return log(`PostgreSQL will not run as root: user ${owner?.name} runs it, in ${folder}.`);
  const draft = join(dataFolder, `.note-${basename(folder)}`);
  await writeFile(
    draft,
    `${folder}\n\nThe line above says where the database of this studio is, since PostgreSQL will not run as root and the user\nwho runs it, ${owner?.name}, can't enter this folder. Back it up together with this folder, and keep this note.\n`,
  );
  const first = await link(draft, join(dataFolder, NOTE)).then(
    () => true,
    () => false,
  );
  await rm(draft);
  if (!first) return rm(folder, { recursive: true });
  log(
    `PostgreSQL will not run as root, and user ${owner?.name}, who runs it, can't enter ${dataFolder}: its data is in ${folder}.`,
  );
}

/** Whether a process exists, whoever it belongs to. */
export function isAlive(pid: number): boolean {
  try {
    return process.kill(pid, 0);
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === 'EPERM';
  }
}

/** Forgets where the cluster was: the next start begins anew. The server must not run. */
export async function removeClusterLocation(dataFolder: string, { folder }: ClusterLocation): Promise<void> {
  await rm(folder, { recursive: true, force: true });
  await rm(join(dataFolder, NOTE), { force: true });
}
