import { accessSync, constants, readFileSync, statfsSync } from 'node:fs';
import { chmod, mkdtemp, readdir } from 'node:fs/promises';
import { freemem, tmpdir } from 'node:os';
import { join } from 'node:path';
import { isAlive } from '../../src/database/embedded/cluster-location.js';

const IN_MEMORY = '/dev/shm';
const ROOM_BYTES_MIN = 3 * 2 ** 30;
const FREE_MEMORY_BYTES_MIN = 6 * 2 ** 30;

/**
 * The folder in which a run keeps what it may lose: in memory where the system offers that and has room, else the system's own for
 * temporary files. PostgreSQL makes a thousand files for each database, and some disks take twenty times as long over them.
 */
const SCRATCH = isRoomInMemory() ? IN_MEMORY : tmpdir();

function isRoomInMemory(): boolean {
  try {
    accessSync(IN_MEMORY, constants.W_OK);
    const mount = readFileSync('/proc/mounts', 'utf8').match(new RegExp(`^\\S+ ${IN_MEMORY} tmpfs (\\S+)`, 'm'))?.[1];
    const { bavail, bsize } = statfsSync(IN_MEMORY);
    const runs = mount !== undefined && !mount.split(',').includes('noexec'); // some tests lay the server's programs there
    return runs && bavail * bsize >= ROOM_BYTES_MIN && freemem() >= FREE_MEMORY_BYTES_MIN;
  } catch {
    return false; // not Linux, or nothing is there
  }
}

/** A new folder of this process, which other users may enter: the server of a root runs as another. */
export async function makeScratchFolder(what: string): Promise<string> {
  const made = await mkdtemp(join(SCRATCH, `wareboard-${what}-${process.pid}-`));
  await chmod(made, 0o755);
  return made;
}

/** The scratch folders of processes that were killed. */
export async function listDeadScratchFolders(): Promise<string[]> {
  const names = await readdir(SCRATCH);
  const isDead = (name: string) => {
    const [, pid] = name.match(/^wareboard-[a-z]+-(\d+)-/) ?? [];
    return pid !== undefined && !isAlive(Number(pid));
  };
  return names.filter(isDead).map((name) => join(SCRATCH, name));
}
