import { join } from 'node:path';
import type { FastifyBaseLogger } from 'fastify';
import type { Config } from '../config.js';
import { openDatabase } from '../database/client.js';
import { startEmbedded } from '../database/embedded/server.js';
import { migrate } from '../database/migrate.js';
import type { Database } from '../database/transaction.js';
import { mailboxFrom } from '../mail/message.js';
import { outboxFolder } from '../mail/outbox-folder.js';
import { smtp } from '../mail/smtp.js';
import type { Post } from '../studio/notices/jobs.js';

export type House = {
  db: Database;
  databaseUrl: string;
  /** The names of the migrations that were applied on the way in. */
  migrated: string[];
  close(): Promise<void>;
};

/** Opens the studio's database, the embedded one where no other is named, and brings its tables up to date. @throws CannotStart */
export async function openHouse(config: Config, log: FastifyBaseLogger): Promise<House> {
  const say = (line: string) => log.info(line);
  const embedded = config.databaseUrl ? null : await startEmbedded(join(config.dataFolder, 'database'), say);
  const databaseUrl = config.databaseUrl ?? embedded?.url ?? '';
  try {
    const migrated = await migrate(databaseUrl);
    const { db, close } = await openDatabase(databaseUrl);
    return {
      db,
      databaseUrl,
      migrated,
      async close() {
        await close();
        await embedded?.stop();
      },
    };
  } catch (error) {
    await embedded?.stop();
    throw error;
  }
}

/** How letters leave: by the mail server, or as files in the outbox folder where none is set. */
export function postOf(config: Config, db: Database, now: () => Date): Post {
  const transport = config.smtpUrl ? smtp(config.smtpUrl) : outboxFolder(join(config.dataFolder, 'outbox'));
  const from = config.mailFrom ? mailboxFrom(config.mailFrom) : undefined;
  return { db, now, transport, writesFiles: config.smtpUrl === undefined, from };
}
