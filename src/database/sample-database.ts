import pg from 'pg';
import { withClient } from './client.js';

/** What the database beside the studio's own is: the mark on it says whether it is ours and whole. */
export type SampleState = 'absent' | 'empty' | 'unfinished' | 'whole' | 'foreign';

const MARK = 'Sample studio of Wareboard';
const MARKS = { unfinished: `${MARK}, being made`, whole: `${MARK}, whole` } as const;

/** Any number of our own: held in the studio's own database by whoever makes the sample, so that two don't. */
const MAKING_LOCK = 4_726_303;
const NAME_BYTES_MAX = 63; // PostgreSQL cuts a longer name off without a word

const nameIn = (url: string) => decodeURIComponent(new URL(url).pathname.slice(1));

/** The sample's database lies beside the studio's own, under its name. */
export const sampleName = (studioUrl: string): string =>
  `${Buffer.from(nameIn(studioUrl))
    .subarray(0, NAME_BYTES_MAX - '_sample'.length)
    .toString()}_sample`;

export function sampleUrl(studioUrl: string): string {
  const url = new URL(studioUrl);
  url.pathname = `/${encodeURIComponent(sampleName(studioUrl))}`;
  return url.href;
}

/** Who owns what this address opens, for a sentence on what to do. */
export const databaseUser = (studioUrl: string): string => decodeURIComponent(new URL(studioUrl).username);

export async function findSample(studioUrl: string): Promise<SampleState> {
  const [found] = await withClient(studioUrl, async (client) => {
    const { rows } = await client.query<{ mark: string | null; own: boolean }>(
      `SELECT shobj_description(oid, 'pg_database') AS mark, pg_has_role(datdba, 'USAGE') AS own
         FROM pg_database WHERE datname = $1`,
      [sampleName(studioUrl)],
    );
    return rows;
  });
  if (!found) return 'absent';
  if (found.own && found.mark === MARKS.whole) return 'whole';
  if (found.own && found.mark === MARKS.unfinished) return 'unfinished';
  return found.own && (await isEmpty(sampleUrl(studioUrl))) ? 'empty' : 'foreign';
}

/** Whether a database has nothing of anybody's in it, as one that was made by hand for the sample. */
const isEmpty = (url: string): Promise<boolean> =>
  withClient(url, async (client) => {
    const { rowCount } = await client.query(
      `SELECT FROM pg_class c JOIN pg_namespace n ON n.oid = c.relnamespace
        WHERE n.nspname NOT LIKE 'pg\\_%' AND n.nspname <> 'information_schema' LIMIT 1`,
    );
    return rowCount === 0;
  });

/** Marks it before the first table is made, and again when it is whole: what a broken loading leaves is not taken for the sample. */
export async function markSample(studioUrl: string, mark: keyof typeof MARKS): Promise<void> {
  await withClient(studioUrl, (client) =>
    client.query(
      `COMMENT ON DATABASE ${pg.escapeIdentifier(sampleName(studioUrl))} IS ${pg.escapeLiteral(MARKS[mark])}`,
    ),
  );
}

/** Makes an empty database as this user, where the server lets them. @throws DatabaseError 42501 where it does not */
export async function makeOwnDatabase(studioUrl: string, name: string): Promise<void> {
  await withClient(studioUrl, (client) =>
    client.query(`CREATE DATABASE ${pg.escapeIdentifier(name)} ENCODING 'UTF8' TEMPLATE template0`),
  );
}

/** Empties what a broken loading left behind; a database that was made by hand stays there for it. */
export async function clearSample(studioUrl: string): Promise<void> {
  await withClient(sampleUrl(studioUrl), (client) =>
    client.query(
      'DROP SCHEMA IF EXISTS graphile_worker CASCADE; DROP SCHEMA IF EXISTS public CASCADE; CREATE SCHEMA public',
    ),
  );
}

/** Deletes the sample with all that is in it; whoever is connected to it is cut off. Nothing but a database with our mark goes. */
export async function dropSample(studioUrl: string): Promise<void> {
  const state = await findSample(studioUrl);
  if (state !== 'whole' && state !== 'unfinished') return;
  await withClient(studioUrl, (client) =>
    client.query(`DROP DATABASE ${pg.escapeIdentifier(sampleName(studioUrl))} WITH (FORCE)`),
  );
}

/** Runs `work` unless another process makes or drops the sample at this moment. @returns false where one does */
export function withSampleLock(studioUrl: string, work: () => Promise<void>): Promise<boolean> {
  return withClient(studioUrl, async (client) => {
    const { rows } = await client.query<{ alone: boolean }>(`SELECT pg_try_advisory_lock(${MAKING_LOCK}) AS alone`);
    if (rows[0]?.alone) await work(); // the lock is let go with the connection
    return rows[0]?.alone ?? false;
  });
}
