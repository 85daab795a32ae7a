import type { Config } from '../config.js';
import { readManifest, sha256OfFile } from '../database/backup/make.js';
import type { Manifest } from '../database/backup/manifest.js';
import { restoreBackup } from '../database/backup/restore.js';
import { openDatabase } from '../database/client.js';
import { QUEUE_WAITING } from '../studio/notices/queries.js';
import { END_STAFF_LINKS, SIGN_EVERYBODY_OUT } from '../studio/staff/queries.js';
import { checkDatabase } from './check.js';
import { openLog } from './log.js';
import { connectToDatabase } from './open-database.js';

const plural = (count: number, noun: string) => `${count} ${noun}${count === 1 ? '' : 's'}`;
export const megabytes = (bytes: number): string => `${(bytes / 1_000_000).toFixed(1)} MB`;

/** What a backup holds, in a few words. */
export function contentsOf({ tables }: Manifest): string {
  const rows = tables.reduce((sum, table) => sum + table.rows, 0);
  return `${plural(rows, 'row')} in ${plural(tables.length, 'table')}`;
}

/** Brings a backup back into an empty database, or only checks it. Afterwards every rule of the studio is looked at. */
export async function restore(
  config: () => Config,
  file: string,
  { check = false }: { check?: boolean },
): Promise<void> {
  if (check) return checkFile(file);
  const place = await connectToDatabase(config(), openLog({ logLevel: 'warn' }));
  try {
    const manifest = await restoreBackup(place.databaseUrl, file, {
      afterwards: [SIGN_EVERYBODY_OUT, END_STAFF_LINKS, QUEUE_WAITING],
    });
    console.log(`Restored the studio as it was on ${manifest.takenAt}: ${contentsOf(manifest)}.`);
    await report(place.databaseUrl);
  } finally {
    await place.close();
  }
}

async function checkFile(file: string): Promise<void> {
  const manifest = await readManifest(file);
  const { bytes, sha256 } = await sha256OfFile(file);
  console.log(`The backup is whole: taken on ${manifest.takenAt}, ${contentsOf(manifest)}, ${megabytes(bytes)}.`);
  console.log(`Its SHA-256 is ${sha256}`);
}

async function report(databaseUrl: string): Promise<void> {
  const { db, close } = await openDatabase(databaseUrl, { max: 1 });
  try {
    const waiting = await db.notice.count({ where: { state: { in: ['waiting', 'failed'] } } });
    if (waiting > 0)
      console.log(
        `${plural(waiting, 'email')} had not been sent by then, and will be sent once this studio runs. If this is a drill, run it without SMTP_URL.`,
      );
  } finally {
    await close();
  }
  await checkDatabase(databaseUrl, 'They were in the backup already:');
}
