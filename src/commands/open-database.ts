import { join } from 'node:path';
import type { FastifyBaseLogger } from 'fastify';
import type { Config } from '../config.js';
import { openDatabase } from '../database/client.js';
import { startEmbedded } from '../database/embedded/server.js';
import { migrate } from '../database/migrate.js';
import { makeOwnDatabase } from '../database/sample-database.js';
import type { Database } from '../database/transaction.js';
import { dataFolderFault, openDataFolder } from './data-folder.js';

export type Connection = {
  /** It may hold a password: never log it. */
  databaseUrl: string;
  /** Makes a further, empty database on the same server. @throws DatabaseError 42501 where this user may not */
  makeDatabase(name: string): Promise<void>;
  close(): Promise<void>;
};

export type OpenedDatabase = Connection & {
  db: Database;
  /** The names of the migrations that were applied on the way in. */
  migrated: string[];
};

/** Reaches the studio's database, the embedded one where no other is named, and leaves its tables as they are. @throws CannotStart */
export async function connectToDatabase(config: Config, log: FastifyBaseLogger): Promise<Connection> {
  const { databaseUrl } = config;
  if (databaseUrl)
    return {
      databaseUrl,
      makeDatabase: (name) => makeOwnDatabase(databaseUrl, name),
      close: async () => undefined,
    };
  await openDataFolder(config.dataFolder);
  const starting = startEmbedded(join(config.dataFolder, 'database'), (line) => log.info(line));
  const embedded = await starting.catch((error) => {
    throw dataFolderFault(config.dataFolder, error); // the disk may fill up on the way
  });
  const { url, makeDatabase, stop } = embedded;
  return { databaseUrl: url, makeDatabase, close: stop };
}

/** Opens the studio's database and brings its tables up to date. @throws CannotStart */
export async function openDatabaseAndMigrate(config: Config, log: FastifyBaseLogger): Promise<OpenedDatabase> {
  const { databaseUrl, makeDatabase, close: leave } = await connectToDatabase(config, log);
  try {
    const migrated = await migrate(databaseUrl);
    const { db, close } = await openDatabase(databaseUrl);
    return {
      db,
      databaseUrl,
      makeDatabase,
      migrated,
      async close() {
        await close();
        await leave();
      },
    };
  } catch (error) {
    await leave();
    throw error;
  }
}
