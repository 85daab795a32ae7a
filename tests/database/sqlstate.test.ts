import '../../src/studio/nouns.js'; // whose refusals the database's own are told as

import { describe, expect, test } from 'vitest';
import { openDatabase, withClient } from '../../src/database/client.js';
import { problemFor, sqlState } from '../../src/database/sqlstate.js';
import { inTransaction, type Transaction } from '../../src/database/transaction.js';
import { testDatabase } from '../support/database.js';

const { db, url } = await testDatabase();

await db.$executeRaw`CREATE TABLE pot (id integer PRIMARY KEY, height_mm integer CHECK (height_mm > 0), part_of integer REFERENCES pot)`;
await db.$executeRaw`CREATE TABLE claim (state text)`;
// raises the SQLSTATE that it is given: at once, or in COMMIT
await db.$executeRaw`CREATE FUNCTION refuse() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN RAISE EXCEPTION 'refused' USING ERRCODE = NEW.state; END $$`;
await db.$executeRaw`CREATE CONSTRAINT TRIGGER refuse AFTER INSERT ON claim
  DEFERRABLE INITIALLY IMMEDIATE FOR EACH ROW EXECUTE FUNCTION refuse()`;
await db.$executeRaw`CREATE SCHEMA scratch`; // the constraints below have the names of real ones
await db.$executeRaw`CREATE TABLE scratch.plan (kiln integer, CONSTRAINT kiln_once_at_a_time EXCLUDE USING gist (kiln WITH =))`;
await db.$executeRaw`CREATE TABLE scratch.load (kiln integer, CONSTRAINT kiln_fires_one_load EXCLUDE USING gist (kiln WITH =))`;
await db.$executeRaw`CREATE TABLE scratch.duty (tutor integer, CONSTRAINT tutor_once_at_a_time EXCLUDE USING gist (tutor WITH =))`;

async function failure(work: (tx: Transaction) => Promise<unknown>): Promise<unknown> {
  return inTransaction(db, work).then(
    () => expect.fail('it was not refused'),
    (error) => error,
  );
}

/** What comes of running this SQL in a transaction: its SQLSTATE, and what a person is told. */
async function refusal(...sql: string[]) {
  const error = await failure(async (tx) => {
    for (const statement of sql) await tx.$executeRawUnsafe(statement);
  });
  const problem = problemFor(error);
  return [sqlState(error), problem?.type, problem?.status];
}

describe('what the tables refuse', () => {
  test.each([
    ['23505', 'already-there', 409, 'INSERT INTO pot VALUES (1, 90), (1, 90)'],
    ['23503', 'still-needed', 409, 'INSERT INTO pot VALUES (1, 90, 2)'],
    ['23514', 'invalid-request', 422, 'INSERT INTO pot VALUES (1, 0)'],
    ['22003', 'invalid-request', 422, 'INSERT INTO pot VALUES (1, 3000000000)'],
    ['22P02', 'invalid-request', 422, `INSERT INTO pot VALUES (1, 'tall')`],
    ['22021', 'invalid-request', 422, `SELECT convert_from('\\x00', 'UTF8')`],
    ['23P01', 'kiln-busy', 409, 'INSERT INTO scratch.plan VALUES (1), (1)'],
    ['23P01', 'kiln-busy', 409, 'INSERT INTO scratch.load VALUES (1), (1)'],
    ['23P01', 'tutor-busy', 409, 'INSERT INTO scratch.duty VALUES (1), (1)'],
  ])('%s is told as %s', async (state, type, status, sql) => {
    expect(await refusal(sql)).toEqual([state, type, status]);
  });

  test('the constraints whose names are looked for are those of the real tables', async () => {
    const rows = await db.$queryRaw`SELECT conname AS name, conrelid::regclass::text AS table FROM pg_constraint
      WHERE contype = 'x' AND connamespace = 'public'::regnamespace ORDER BY 1`;
    expect(rows).toEqual([
      { name: 'kiln_fires_one_load', table: 'firing' },
      { name: 'kiln_once_at_a_time', table: 'firing' },
      { name: 'membership_once_at_a_time', table: 'membership' },
      { name: 'membership_pause_once_at_a_time', table: 'membership_pause' },
      { name: 'membership_shelf_given_once', table: 'membership' },
      { name: 'staff_link_once', table: 'staff_link' },
      { name: 'staff_member_email_once', table: 'staff_member' },
      { name: 'tutor_once_at_a_time', table: 'session_tutor' },
    ]);
  });

  test('a refusal through a model is told like one through SQL', async () => {
    const row = { caller: 'x', key: '12345678', fingerprint: 'x', createdAt: new Date(0) };
    const error = await failure(async (tx) => {
      await tx.requestKey.create({ data: row });
      await tx.requestKey.create({ data: row });
    });
    expect([sqlState(error), problemFor(error)?.type]).toEqual(['23505', 'already-there']);
  });
});

describe('what the triggers refuse', () => {
  const rules = [
    ['WB001', 'not-balanced'],
    ['WB002', 'course-full'],
    ['WB003', 'room-full'],
    ['WB004', 'not-balanced'],
    ['WB005', 'never-changes'],
    ['WB006', 'stock-impossible'],
    ['WB007', 'wrong-stage'],
    ['WB008', 'key-reused'],
    ['WB009', 'never-changes'],
    ['WB010', 'not-allowed'],
    ['WB011', 'last-owner'],
    ['WB014', 'already-there'],
    ['WB015', 'never-changes'],
    ['WB016', 'no-place'],
    ['WB017', 'wrong-time'],
    ['WB020', 'course-over'],
    ['WB021', 'no-make-up'],
    ['WB025', 'not-bookable'],
    ['WB026', 'already-there'],
    ['WB027', 'not-balanced'],
    ['WB024', 'closed-day'],
    ['WB028', 'not-a-child'],
    ['WB029', 'plan-retired'],
    ['WB030', 'membership-changed'],
    ['WB035', 'already-there'],
  ] as const;

  test.each(rules)('%s is told as %s, at once or in COMMIT', async (state, type) => {
    const claim = `INSERT INTO claim VALUES ('${state}')`;
    expect((await refusal(claim)).slice(0, 2)).toEqual([state, type]);
    expect((await refusal('SET CONSTRAINTS ALL DEFERRED', claim)).slice(0, 2)).toEqual([state, type]);
  });

  test('no migration raises a code that is not told', async () => {
    const bodies = await db.$queryRaw<{ code: string }[]>`
      SELECT DISTINCT (regexp_matches(pg_get_functiondef(p.oid), 'WB[0-9]{3}', 'g'))[1] AS code
        FROM pg_proc p WHERE pronamespace = 'public'::regnamespace AND prokind = 'f'
      UNION SELECT DISTINCT (regexp_matches(pg_get_triggerdef(oid), 'WB[0-9]{3}', 'g'))[1] FROM pg_trigger`;
    const told = new Set<string>(rules.map(([state]) => state));
    expect(bodies.length).toBeGreaterThan(0);
    expect(bodies.filter(({ code }) => !told.has(code))).toEqual([]);
  });
});

describe('when there is too much to do', () => {
  test.each(['40001', '40P01'])('%s after all attempts is 503', async (state) => {
    expect(await refusal(`INSERT INTO claim VALUES ('${state}')`)).toEqual([state, 'database-busy', 503]);
  });

  test('57014, a statement that takes too long, is 503', async () => {
    const slow = ['SET LOCAL statement_timeout = 50', 'SELECT pg_sleep(5)::text'];
    expect(await refusal(...slow)).toEqual(['57014', 'database-busy', 503]);
  });

  test('work that takes longer than it may is given up, told in a sentence, and has its own limit where it is long', async () => {
    const slow = (tx: Transaction) => tx.$queryRaw`SELECT pg_sleep(1.5)::text, 1 AS done`;
    const late = async (tx: Transaction) => [await slow(tx), await tx.$queryRaw`SELECT 1 AS done`];
    const error = await inTransaction(db, late, { limitMilliseconds: 1000 }).catch((e: unknown) => e);
    expect(problemFor(error)).toMatchObject({
      ...{ type: 'database-busy', status: 503 },
      detail: expect.stringMatching(/^It took too long.*Nothing was saved: try again/),
    });
    expect(await inTransaction(db, late, { limitMilliseconds: 20_000 })).toHaveLength(2);
  });

  test('53100, a full disk, says what to do', async () => {
    const error = await failure((tx) => tx.$executeRaw`INSERT INTO claim VALUES ('53100')`);
    expect(problemFor(error)).toMatchObject({
      ...{ type: 'disk-full', status: 507 },
      detail: 'The disk of the database is full. Nothing was saved: make room on it, then send it again.',
    });
  });

  test('55P03, a lock that does not come, is 503', async () => {
    await db.$executeRaw`INSERT INTO pot VALUES (50, 50)`;
    await inTransaction(db, async (tx) => {
      await tx.$executeRaw`SELECT FROM pot WHERE id = 50 FOR UPDATE`;
      const waiting = ['SET LOCAL lock_timeout = 50', 'SELECT FROM pot WHERE id = 50 FOR UPDATE'];
      expect(await refusal(...waiting)).toEqual(['55P03', 'database-busy', 503]);
    });
  });

  test('a transaction for which no connection is free is 503', async () => {
    const { db: small, close } = await openDatabase(url, { max: 1 });
    const error = await small.$transaction(async () => {
      return small.$transaction(async () => undefined, { maxWait: 50 }).catch((e: unknown) => e);
    });
    expect(problemFor(error)).toMatchObject({ type: 'database-busy', status: 503 });
    await close();
  });
});

describe('when the database is away', () => {
  test.each(['08006', '08001', '53300', '57P02', '57P03'])('%s is 503', async (state) => {
    expect(await refusal(`INSERT INTO claim VALUES ('${state}')`)).toEqual([state, 'database-away', 503]);
  });

  test('57P01, a session that is ended, is 503', async () => {
    expect(await refusal('SELECT pg_terminate_backend(pg_backend_pid())')).toEqual(['57P01', 'database-away', 503]);
  });

  test.each(['in the next statement', 'in COMMIT'])(
    'a connection lost in the middle, seen %s, has no state and is 503',
    async (when) => {
      const error = await failure(async (tx) => {
        const [row] = await tx.$queryRaw<{ pid: number }[]>`SELECT pg_backend_pid() AS pid`;
        await withClient(url, (client) => client.query('SELECT pg_terminate_backend($1, 5000)', [row?.pid]));
        if (when === 'in the next statement') await tx.$executeRaw`SELECT 1`;
      });
      expect(sqlState(error)).toBeUndefined();
      expect(problemFor(error)).toMatchObject({ type: 'database-away', status: 503 });
      expect(await db.$queryRaw`SELECT 1 AS one`).toEqual([{ one: 1 }]); // and the next request finds a new connection
    },
  );

  test('a server that nobody runs any more is 503', async () => {
    const { PrismaPg } = await import('@prisma/adapter-pg');
    const { PrismaClient } = await import('../../src/database/generated/client.js');
    const gone = new PrismaClient({ adapter: new PrismaPg('postgresql://x:y@127.0.0.1:1/z') });
    const attempts = [
      () => gone.studio.count(),
      () => gone.$queryRaw`SELECT 1`,
      () => inTransaction(gone, async () => 1),
    ];
    for (const attempt of attempts) {
      const error = await attempt().catch((e: unknown) => e);
      expect(problemFor(error)).toMatchObject({ type: 'database-away', status: 503 });
    }
    await gone.$disconnect();
  });
});

test('faults of ours are nobody else’s problem', async () => {
  expect(problemFor(new TypeError('x is undefined'))).toBeUndefined();
  expect(problemFor(undefined)).toBeUndefined();
  expect(problemFor('text')).toBeUndefined();
  expect(await refusal('SELECT no_such_column')).toEqual(['42703', undefined, undefined]);
});
