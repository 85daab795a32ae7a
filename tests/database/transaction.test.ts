import { beforeEach, describe, expect, test } from 'vitest';
import { sqlState } from '../../src/database/sqlstate.js';
import {
  changed,
  eachOnce,
  inSnapshot,
  inTransaction,
  once,
  type Transaction,
} from '../../src/database/transaction.js';
import { testDatabase } from '../support/database.js';

const { db } = await testDatabase();

await db.$executeRaw`CREATE TABLE shelf (id integer PRIMARY KEY, pots integer NOT NULL)`;
await db.$executeRaw`CREATE TABLE visit (shelf_id integer NOT NULL)`;
// locks a shelf as late as in COMMIT
await db.$executeRaw`CREATE FUNCTION lock_shelf() RETURNS trigger LANGUAGE plpgsql AS $$
  BEGIN PERFORM FROM shelf WHERE id = NEW.shelf_id FOR UPDATE; RETURN NULL; END $$`;
await db.$executeRaw`CREATE CONSTRAINT TRIGGER lock_shelf AFTER INSERT ON visit
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION lock_shelf()`;

beforeEach(async () => {
  await db.$executeRaw`TRUNCATE shelf, visit`;
  await db.$executeRaw`INSERT INTO shelf VALUES (1, 0), (2, 0)`;
});

/** Two pieces of work that meet in the middle of their first attempt, so that they collide for certain. */
async function collide(work: (tx: Transaction, me: 1 | 2, meet: () => Promise<void>) => Promise<void>) {
  const arrived: (() => void)[] = [];
  const attempts = { 1: 0, 2: 0 };
  const meet = (me: 1 | 2) =>
    new Promise<void>((resolve) => {
      if (attempts[me] > 1) return resolve();
      arrived.push(resolve);
      if (arrived.length === 2) for (const go of arrived) go();
    });
  const both = ([1, 2] as const).map((me) =>
    inTransaction(db, (tx) => {
      attempts[me]++;
      return work(tx, me, () => meet(me));
    }),
  );
  await Promise.all(both);
  return attempts[1] + attempts[2];
}

const pots = async () =>
  (await db.$queryRaw<{ pots: number }[]>`SELECT pots FROM shelf ORDER BY id`).map((s) => s.pots);

test('a deadlock is tried again, whole, and both pieces of work are kept once', async () => {
  const attempts = await collide(async (tx, me, meet) => {
    await tx.$executeRaw`UPDATE shelf SET pots = pots + 1 WHERE id = ${me}`;
    await meet();
    await tx.$executeRaw`UPDATE shelf SET pots = pots + 1 WHERE id = ${3 - me}`;
  });
  expect(attempts).toBeGreaterThanOrEqual(3); // on a busy machine the second try may collide as well
  expect(await pots()).toEqual([2, 2]);
});

test('a deadlock in COMMIT is tried again', async () => {
  const attempts = await collide(async (tx, me, meet) => {
    await tx.$executeRaw`UPDATE shelf SET pots = pots + 1 WHERE id = ${me}`;
    await tx.$executeRaw`INSERT INTO visit VALUES (${3 - me})`;
    await meet();
  });
  expect(attempts).toBeGreaterThanOrEqual(3); // on a busy machine the second try may collide as well
  expect(await pots()).toEqual([1, 1]);
  expect(await db.$queryRaw`SELECT shelf_id FROM visit ORDER BY 1`).toEqual([{ shelf_id: 1 }, { shelf_id: 2 }]);
});

test('a serialization failure is tried again, be it in a statement or in COMMIT', async () => {
  // each takes the last place if it sees none taken; both in turn would be one too many
  const attempts = await collide(async (tx, me, meet) => {
    await tx.$executeRaw`SET TRANSACTION ISOLATION LEVEL SERIALIZABLE`;
    const [row] = await tx.$queryRaw<{ taken: bigint }[]>`SELECT count(*) AS taken FROM visit`;
    await meet();
    if (row?.taken === 0n) await tx.$executeRaw`INSERT INTO visit VALUES (${me})`;
  });
  expect(attempts).toBeGreaterThanOrEqual(3);
  expect(await db.$queryRaw`SELECT count(*)::integer AS taken FROM visit`).toEqual([{ taken: 1 }]);
});

test('a failure that stays is passed on after five attempts, and nothing is kept', async () => {
  let attempts = 0;
  const failing = inTransaction(db, async (tx) => {
    attempts++;
    await tx.$executeRaw`UPDATE shelf SET pots = 9`;
    await tx.$executeRaw`DO $$ BEGIN RAISE EXCEPTION 'again' USING ERRCODE = '40001'; END $$`;
  });
  await expect(failing).rejects.toSatisfy((error) => sqlState(error) === '40001');
  expect(attempts).toBe(5);
  expect(await pots()).toEqual([0, 0]);
});

test.each([
  ['a refusal of the database', `INSERT INTO shelf VALUES (1, 1)`],
  ['a fault of the program', `SELECT no_such_column FROM shelf`],
])('%s is passed on at once, and nothing is kept', async (_, sql) => {
  let attempts = 0;
  const failing = inTransaction(db, async (tx) => {
    attempts++;
    await tx.$executeRaw`UPDATE shelf SET pots = 9`;
    await tx.$executeRawUnsafe(sql);
  });
  await expect(failing).rejects.toThrow();
  expect(attempts).toBe(1);
  expect(await pots()).toEqual([0, 0]);
});

describe('a snapshot', () => {
  test('does not see what is committed after its first look', async () => {
    const seen = await inSnapshot(db, async (tx) => {
      const before = await tx.$queryRaw`SELECT pots FROM shelf WHERE id = 1`;
      await db.$executeRaw`UPDATE shelf SET pots = 5 WHERE id = 1`;
      return [before, await tx.$queryRaw`SELECT pots FROM shelf WHERE id = 1`];
    });
    expect(seen).toEqual([[{ pots: 0 }], [{ pots: 0 }]]);
    expect(await pots()).toEqual([5, 0]);
  });

  test('changes nothing', async () => {
    const writing = inSnapshot(db, (tx) => tx.$executeRaw`UPDATE shelf SET pots = 5`);
    await expect(writing).rejects.toSatisfy((error) => sqlState(error) === '25006');
    expect(await pots()).toEqual([0, 0]);
  });

  test('is taken anew where the database asks for that, as a standby does', async () => {
    let attempts = 0;
    const answer = await inSnapshot(db, async (tx) => {
      if (++attempts < 3) await tx.$executeRaw`DO $$ BEGIN RAISE EXCEPTION 'again' USING ERRCODE = '40001'; END $$`;
      return attempts;
    });
    expect(answer).toBe(3);
  });
});

describe('what is read once in a transaction', () => {
  const pots = (tx: Transaction) =>
    once(
      tx,
      'pots',
      async () =>
        (
          await tx.$queryRaw<{ pots: number }[]>`
    SELECT pots FROM shelf WHERE id = 1`
        )[0]?.pots,
    );
  const put = (tx: Transaction, n: number) => tx.$executeRaw`UPDATE shelf SET pots = ${n} WHERE id = 1`;

  test('is read again once somebody says that it was changed', async () => {
    await inTransaction(db, async (tx) => {
      expect(await pots(tx)).toBe(0);
      await put(tx, 7);
      expect(await pots(tx)).toBe(0);
      changed(tx, 'pots');
      expect(await pots(tx)).toBe(7);
    });
  });

  test('is forgotten with the transaction, and with an attempt that is tried again', async () => {
    const seen: unknown[] = [];
    await inTransaction(db, async (tx) => {
      seen.push(await pots(tx));
      await put(tx, 3);
      changed(tx, 'pots');
      seen.push(await pots(tx));
      if (seen.length < 4) await tx.$executeRaw`DO $$ BEGIN RAISE SQLSTATE '40001'; END $$`;
    });
    expect(seen).toEqual([0, 3, 0, 3]);
    expect(await inTransaction(db, pots)).toBe(3);
  });

  test('is asked anew where it was not found, and outside a transaction', async () => {
    let asked = 0;
    const missing = (tx: Transaction) =>
      once(tx, 'missing', async () => {
        asked++;
        throw new Error('not there yet');
      });
    await inTransaction(db, async (tx) => {
      await expect(missing(tx)).rejects.toThrow();
      await expect(missing(tx)).rejects.toThrow();
    });
    expect(asked).toBe(2);
    expect(await pots(db)).toBe(0);
    await put(db, 9);
    expect(await pots(db)).toBe(9);
  });

  test('is asked for key by key once in a snapshot, and each time where it may be changed', async () => {
    const asked: string[][] = [];
    const names = (tx: Transaction, keys: string[]) =>
      eachOnce(tx, 'name', keys, async (missing) => {
        asked.push(missing);
        return new Map(missing.filter((key) => key !== 'none').map((key) => [key, key.toUpperCase()]));
      });
    await inSnapshot(db, async (tx) => {
      expect([...(await names(tx, ['a', 'b', 'none', 'a']))]).toEqual([
        ['a', 'A'],
        ['b', 'B'],
      ]);
      expect([...(await names(tx, ['none', 'b', 'c']))]).toEqual([
        ['b', 'B'],
        ['c', 'C'],
      ]);
      await names(tx, ['a', 'none']);
    });
    expect(asked.splice(0)).toEqual([['a', 'b', 'none'], ['c']]);
    await inTransaction(db, async (tx) => {
      await names(tx, ['a']);
      expect([...(await names(tx, ['a', 'a']))]).toEqual([['a', 'A']]);
    });
    expect(asked).toEqual([['a'], ['a']]);
  });
});
