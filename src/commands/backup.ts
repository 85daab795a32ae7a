import type { Config } from '../config.js';
import { makeBackup } from '../database/backup/make.js';
import { openLog } from './log.js';
import { connectToDatabase } from './open-database.js';
import { contentsOf, megabytes } from './restore.js';

/** Writes a backup and says what is in it. The studio may be served meanwhile. */
export async function backup(config: Config, file: string): Promise<void> {
  const place = await connectToDatabase(config, openLog({ logLevel: 'warn' }));
  try {
    const begun = Date.now();
    const { manifest, bytes, sha256 } = await makeBackup(place.databaseUrl, file, new Date());
    const seconds = ((Date.now() - begun) / 1000).toFixed(1);
    console.log(
      `Backed up to ${file}: ${contentsOf(manifest)}, ${megabytes(bytes)}, in ${seconds} s. It was read back.`,
    );
    console.log(`Its SHA-256 is ${sha256}`);
    console.log(
      "It contains people's names, addresses and debts. Only you can read it on this machine; encrypt it before it goes anywhere else.",
    );
  } finally {
    await place.close();
  }
}
