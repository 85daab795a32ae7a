import { stat } from 'node:fs/promises';
import { CannotStart } from '../../config.js';
import { type OsUser, runCommandAs } from './run-command.js';

/** PostgreSQL refuses to run as root. (On Windows it drops an administrator's rights by itself.) */
export const isRoot = () => process.getuid?.() === 0;

/** Users who may run the server for root, best first: whoever owns the data folder, PostgreSQL's own user, nobody. */
export async function candidates(dataFolder: string): Promise<OsUser[]> {
  const { uid, gid } = await stat(dataFolder);
  const named = await Promise.all(['postgres', 'nobody'].map(lookUp));
  return [...(uid === 0 ? [] : [await describe(uid, gid)]), ...named.filter((owner) => owner !== undefined)];
}

/**
 * Who must run the server of a cluster that belongs to this user: undefined where that is the user of this process.
 * @throws CannotStart where this process can't act for that user
 */
export async function ownerOf(uid: number, gid: number, folder: string): Promise<OsUser | undefined> {
  const self = process.getuid?.();
  if (self === undefined || (self === uid && self !== 0)) return undefined;
  const owner = await describe(uid, gid);
  if (self !== 0 || uid === 0)
    throw new CannotStart(
      `The database in ${folder} belongs to user ${owner.name}, ${uid === 0 ? 'as whom PostgreSQL will not run' : 'not to you'}. Start as that user, or give it to another with chown -R.`,
    );
  return owner;
}

/** Whether this user gets into a folder: asked of the system itself, which knows more than the mode bits say. */
export async function canEnter(folder: string, owner: OsUser): Promise<boolean> {
  return (await runCommandAs('/bin/sh', ['-c', 'cd "$0"', folder], owner)).ok;
}

async function describe(uid: number, gid: number): Promise<OsUser> {
  const { ok, output } = await runCommandAs('id', ['-un', String(uid)]);
  return { name: ok ? output : String(uid), uid, gid };
}

async function lookUp(name: string): Promise<OsUser | undefined> {
  const [user, group] = await Promise.all(['-u', '-g'].map((what) => runCommandAs('id', [what, name])));
  return user?.ok && group?.ok ? { name, uid: Number(user.output), gid: Number(group.output) } : undefined;
}
