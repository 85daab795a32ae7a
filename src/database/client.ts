import { PrismaPg } from '@prisma/adapter-pg';
import pg from 'pg';
import { CannotStart } from '../config.js';
import { PrismaClient } from './generated/client.js';

const VERSION_MIN = 16;
const CONNECT_MILLISECONDS_MAX = 10_000;
const STATEMENT_MILLISECONDS_MAX = 30_000;
const LOCK_MILLISECONDS_MAX = 10_000;
const CONNECTIONS = 10;
const STATEMENTS_KEPT = 1000;

export interface OpenDatabase {
  db: PrismaClient;
  close(): Promise<void>;
}

/**
 * Opens the studio's database, after a look at whether it can be the program's at all.
 * @param max connections at once
 * @throws CannotStart with what to check, without the password
 */
export async function openDatabase(url: string, { max = CONNECTIONS } = {}): Promise<OpenDatabase> {
  await withClient(url, checkServer);
  const settings = {
    connectionString: pinned(url),
    max,
    application_name: 'wareboard',
    connectionTimeoutMillis: CONNECT_MILLISECONDS_MAX,
    statement_timeout: STATEMENT_MILLISECONDS_MAX,
    lock_timeout: LOCK_MILLISECONDS_MAX,
    // a process that hangs in a transaction must not keep a course locked for ever
    idle_in_transaction_session_timeout: STATEMENT_MILLISECONDS_MAX,
  };
  const adapter = new PrismaPg(settings, { statementNameGenerator: nameStatements() });
  // otherwise each query would look for the line that asked it, for a message that nobody reads: a twentieth of all it costs
  const db = new PrismaClient({ adapter, errorFormat: 'minimal' });
  return { db, close: () => db.$disconnect() };
}

/**
 * Names statements by their text, so that a connection plans each once: planning takes the server longer than most of them run.
 * Lists of many lengths make ever more texts; those beyond the first are planned each time, or every connection would keep them all.
 */
function nameStatements(): (query: { sql: string }) => string {
  const names = new Map<string, string>();
  return ({ sql }) => {
    const known = names.get(sql);
    if (known !== undefined) return known;
    if (names.size === STATEMENTS_KEPT) return '';
    const name = `s${names.size}`;
    names.set(sql, name);
    return name;
  };
}

/** Runs `work` on a connection of its own, outside Prisma. @throws CannotStart where there is no way in */
export async function withClient<T>(url: string, work: (client: pg.Client) => Promise<T>): Promise<T> {
  const client = new pg.Client({
    connectionString: pinned(url),
    application_name: 'wareboard',
    connectionTimeoutMillis: CONNECT_MILLISECONDS_MAX,
  });
  client.on('error', () => undefined); // a query that is under way is told; an idle connection has nobody to tell
  try {
    await client.connect();
  } catch (error) {
    throw new CannotStart(`The database at ${place(url)} can't be used: ${reason(error as pg.DatabaseError)}`);
  }
  try {
    return await work(client);
  } finally {
    await client.end().catch(() => undefined);
  }
}

/** @throws CannotStart where the server is too old, or the database couldn't hold every name */
export async function checkServer(client: pg.Client): Promise<void> {
  const { rows } = await client.query<{ version: number; encoding: string; name: string }>(
    `SELECT current_setting('server_version_num')::integer / 10000 AS version,
            current_setting('server_encoding') AS encoding, current_database() AS name`,
  );
  const [found] = rows;
  if (!found || found.version < VERSION_MIN)
    throw new CannotStart(
      `The database server is PostgreSQL ${found?.version}; Wareboard needs ${VERSION_MIN} or newer.`,
    );
  if (found.encoding !== 'UTF8')
    throw new CannotStart(
      `The database "${found.name}" is in ${found.encoding} and couldn't hold every name. Make one with CREATE DATABASE ... ENCODING 'UTF8' TEMPLATE template0.`,
    );
}

/**
 * The adapter reads and writes instants as if every session were in UTC, so every session must be. A studio's data lies in memory or on
 * a disk without a head to move, where a row by its index costs little more than the next one: by its default, made for the heads, the
 * server would rather read a whole table.
 */
function pinned(url: string): string {
  const address = new URL(url);
  const options = address.searchParams.get('options');
  address.searchParams.set(
    'options',
    `${options ? `${options} ` : ''}-c TimeZone=UTC -c DateStyle=ISO -c random_page_cost=1.1`,
  );
  return address.href;
}

const place = (url: string) => {
  const { hostname, port, pathname, searchParams } = new URL(url);
  return `${searchParams.get('host') ?? hostname}:${port || 5432}${pathname}`;
};

function reason(error: pg.DatabaseError | AggregateError): string {
  const { code, message } = error instanceof AggregateError ? (error.errors[0] as pg.DatabaseError) : error;
  switch (code) {
    case 'ECONNREFUSED':
    case 'ENOENT':
      return 'no server listens there. Is PostgreSQL running, and are host and port in DATABASE_URL right?';
    case 'ENOTFOUND':
    case 'EAI_AGAIN':
      return 'there is no host of that name. Check the host in DATABASE_URL.';
    case 'EHOSTUNREACH':
    case 'ENETUNREACH':
    case 'ETIMEDOUT':
      return 'no answer. Check the host in DATABASE_URL, the network and the firewall.';
    case '28P01':
    case '28000':
      return 'the server refuses the user or the password in DATABASE_URL.';
    case '3D000':
      return 'the server has no database of that name. Create it with CREATE DATABASE.';
    default:
      return /timeout/.test(message)
        ? 'no answer. Check the host in DATABASE_URL, the network and the firewall.'
        : `${message}. Check DATABASE_URL.`;
  }
}
