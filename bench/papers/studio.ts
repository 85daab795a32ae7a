import { existsSync } from 'node:fs';
import { chmod, mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import pg from 'pg';
import { loadDemo } from '../../src/commands/demo/load.js';
import { openDatabase } from '../../src/database/client.js';
import { startEmbedded } from '../../src/database/embedded/server.js';
import { migrate } from '../../src/database/migrate.js';
import type { PaperKind } from '../../src/documents/contents.js';

/** Starts the thread for papers from these sources. */
export const SOURCE_THREAD = new URL('../../tests/support/source-thread.mjs', import.meta.url);

export type Paper = { id: string; kind: PaperKind; content: object };

/** The invented studio's papers, and its database, which is made unless it is in `folder` already. */
export async function openPapers(folder?: string) {
  const data = folder ?? (await mkdtemp(join(tmpdir(), 'wareboard-papers-')));
  await mkdir(data, { recursive: true });
  await chmod(data, 0o755); // the server of a root runs as another user
  const server = await startEmbedded(join(data, 'database'), () => undefined);
  const mark = join(data, 'loaded');
  const isMade = existsSync(mark);
  await migrate(server.url); // also where it was made before the last migrations
  const { db, close } = await openDatabase(server.url);
  if (!isMade) {
    await loadDemo(db, new Date());
    await writeFile(mark, '');
  }
  const rows = await db.document.findMany({ orderBy: { id: 'asc' }, select: { id: true, kind: true, content: true } });
  await close();
  const superuser = new pg.Client({ connectionString: server.superuserUrl });
  await superuser.connect();
  return {
    url: server.url,
    papers: rows as Paper[],
    /** As if none had been asked for: each is rendered once, and kept. */
    forgetRenderings: () =>
      superuser.query(
        `SET session_replication_role = replica; DELETE FROM rendering; SET session_replication_role = origin`,
      ),
    async stop() {
      await superuser.end();
      await server.stop();
      if (!folder) await rm(data, { recursive: true, force: true });
    },
  };
}
