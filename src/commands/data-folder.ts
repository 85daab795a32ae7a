import { randomUUID } from 'node:crypto';
import { mkdir, rm, writeFile } from 'node:fs/promises';
import { dirname, join, resolve } from 'node:path';
import { CannotStart } from '../config.js';

/** More than a full disk has left over for small files. */
const TRIAL_BYTES = 65_536;

const OTHER = 'Name a folder that can be written to in WAREBOARD_DATA.';

/** Why nothing can be written, by the system's code, and what to do. */
const REASONS: Record<string, string> = {
  EACCES: `this user may not write there. Start Wareboard as the user who owns it, or give it to this one (chown). ${OTHER}`,
  EPERM: `the system forbids it. ${OTHER}`,
  EROFS: `it is on a disk that can only be read. ${OTHER}`,
  ENOSPC: 'the disk is full. Make room on it, or name a folder on another disk in WAREBOARD_DATA.',
  EDQUOT: 'the space that this user may fill is full. Make room, or name a folder on another disk in WAREBOARD_DATA.',
  ENOTDIR: `it, or a folder above it, is a file. ${OTHER}`,
  ENOENT: `the system keeps no files there. ${OTHER}`,
  ENAMETOOLONG: `the path is too long. ${OTHER}`,
  ELOOP: `its links lead in a circle. ${OTHER}`,
};

/**
 * Makes the data folder where it lacks, and tries whether it can be written to.
 * @throws CannotStart that names the folder, the reason, and what to do
 */
export async function openDataFolder(dataFolder: string): Promise<void> {
  const folder = resolve(dataFolder);
  const trial = join(folder, `.trial-${randomUUID()}`);
  try {
    await make(folder);
    await writeFile(trial, Buffer.alloc(TRIAL_BYTES), { flag: 'wx' });
  } catch (error) {
    throw dataFolderFault(folder, error);
  } finally {
    await rm(trial, { force: true }).catch(() => undefined); // the folder itself may be what is wrong
  }
}

/** What failed in the data folder, as a person can mend it; anything else comes back as it was. */
export function dataFolderFault(dataFolder: string, error: unknown): unknown {
  const { code, syscall } = error as { code?: string; syscall?: string };
  const reason = syscall && REASONS[code ?? ''];
  return reason ? new CannotStart(`The data folder ${resolve(dataFolder)} can't be used: ${reason}`) : error;
}

/** Folder by folder: under /proc, Node's own recursive mkdir never comes back. */
async function make(folder: string): Promise<void> {
  try {
    await mkdir(folder);
  } catch (error) {
    const { code } = error as { code?: string };
    if (code === 'EEXIST') return; // what is no folder there is found out by the trial
    if (code !== 'ENOENT' || dirname(folder) === folder) throw error;
    await make(dirname(folder));
    await mkdir(folder).catch((again) => {
      if (again.code !== 'EEXIST') throw again; // another process made it meanwhile
    });
  }
}
