import { setTimeout as sleep } from 'node:timers/promises';
import type { Prisma, PrismaClient } from './generated/client.js';
import { sqlState } from './sqlstate.js';

export type Database = PrismaClient;
export type Transaction = Prisma.TransactionClient;

const RETRIED = new Set(['40001', '40P01']); // serialization failure, deadlock: nothing was kept, and a second try may pass
const ATTEMPTS_MAX = 5;
/** A request that takes longer holds up others: it is taken back, and told to try again. */
const LIMIT_MILLISECONDS = 10_000;
/** For work that nobody waits on and that may be long on a busy machine, such as loading a whole year: a limit for what hangs. */
export const LONG_LIMIT_MILLISECONDS = 600_000;
/** A read holds nobody up, and may take longer: a limit for what hangs. */
const READ_LIMIT_MILLISECONDS = 60_000;
const PAUSE_MILLISECONDS = 5;

export interface Limit {
  /** After how long the work is given up, and nothing of it saved. */
  limitMilliseconds?: number;
}

const known = new WeakMap<Transaction, Map<string, Promise<unknown>>>();

/**
 * What `read` gives, asked of the database once in a transaction: for what many ask for and hardly anybody changes. Whoever does
 * change it in the same transaction says so by `changed`. Outside a transaction it is read each time.
 */
export function once<T>(tx: Transaction, key: string, read: () => Promise<T>): Promise<T> {
  const answers = known.get(tx);
  if (!answers) return read();
  const before = answers.get(key);
  if (before) return before as Promise<T>;
  const answer = read();
  answers.set(key, answer);
  answer.catch(() => answers.delete(key)); // what was not found may be entered yet
  return answer;
}

/** Those that can change nothing: what they have read of a row holds until they end. */
const snapshots = new WeakSet<Transaction>();

/**
 * What `read` gives for each key. In a snapshot no key is asked for twice: whoever works things out one by one first reads for all of
 * them together, and each finds what it needs. Elsewhere every key is read each time.
 *
 * @param read what is there, under its key; what is not there is left out
 */
export async function eachOnce<T>(
  tx: Transaction,
  name: string,
  keys: readonly string[],
  read: (missing: string[]) => Promise<ReadonlyMap<string, T>>,
): Promise<Map<string, T>> {
  const wanted = [...new Set(keys)];
  if (!snapshots.has(tx)) return new Map(wanted.length === 0 ? [] : await read(wanted));
  const found = await once(tx, `each ${name}`, async () => new Map<string, T | undefined>());
  const missing = wanted.filter((key) => !found.has(key));
  if (missing.length > 0) {
    const more = await read(missing);
    for (const key of missing) found.set(key, more.get(key));
  }
  return new Map(
    wanted.flatMap((key): [string, T][] => {
      const value = found.get(key);
      return value === undefined ? [] : [[key, value]];
    }),
  );
}

/** What `once` kept under this key is read again. */
export function changed(tx: Transaction, key: string): void {
  known.get(tx)?.delete(key);
}

/**
 * Runs `work` in one transaction, and the whole of it again when the database asks for that, also at COMMIT. So `work` may run
 * several times and must have no effect outside the transaction; nothing in it may wait for mail, HTTP or a PDF.
 *
 * @throws Prisma's P2028 after `limitMilliseconds`, which `problemFor` tells as busy; nothing is kept then
 */
export async function inTransaction<T>(
  db: Database,
  work: (tx: Transaction) => Promise<T>,
  { limitMilliseconds = LIMIT_MILLISECONDS }: Limit = {},
): Promise<T> {
  return untilItPasses(() =>
    db.$transaction(remembering(work), { maxWait: limitMilliseconds, timeout: limitMilliseconds }),
  );
}

/**
 * Runs `work` on one picture of the database: what others commit meanwhile isn't seen by any of its statements, and it can change
 * nothing. It takes one connection, so `work` must ask no other: with all of them taken by such reads, each would wait for ever.
 *
 * @throws Prisma's P2028 where no connection comes free or it hangs, which `problemFor` tells as busy
 */
export async function inSnapshot<T>(db: Database, work: (tx: Transaction) => Promise<T>): Promise<T> {
  const limits = { maxWait: READ_LIMIT_MILLISECONDS, timeout: READ_LIMIT_MILLISECONDS };
  const looking = remembering(work);
  return untilItPasses(() =>
    db.$transaction(async (tx) => {
      // one statement, where Prisma's own option would need a second for READ ONLY; it must be the first
      await tx.$executeRaw`SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY`;
      snapshots.add(tx);
      return looking(tx);
    }, limits),
  );
}

/** Ends a transaction that was never to be kept, and carries out of it what it came to. */
class TakenBack extends Error {
  constructor(readonly answer: unknown) {
    super('This transaction was only tried.');
  }
}

/**
 * Runs `work` whole, then takes all of it back: what it answers is what would happen, since it is what did. What is only judged at
 * COMMIT is judged too.
 */
export async function triedOut<T>(db: Database, work: (tx: Transaction) => Promise<T>, limit: Limit = {}): Promise<T> {
  const whole = async (tx: Transaction) => {
    const answer = await work(tx);
    await tx.$executeRaw`SET CONSTRAINTS ALL IMMEDIATE`;
    throw new TakenBack(answer);
  };
  try {
    return await inTransaction<T>(db, whole, limit);
  } catch (error) {
    if (error instanceof TakenBack) return error.answer as T;
    throw error;
  }
}

async function untilItPasses<T>(attemptOnce: () => Promise<T>): Promise<T> {
  for (let attempt = 1; ; attempt++) {
    try {
      return await attemptOnce();
    } catch (error) {
      if (attempt === ATTEMPTS_MAX || !RETRIED.has(sqlState(error) ?? '')) throw error;
      // a pause of random length, longer each time, lets those who collided pass one after the other
      await sleep(2 ** attempt * PAUSE_MILLISECONDS * Math.random());
    }
  }
}

const remembering =
  <T>(work: (tx: Transaction) => Promise<T>) =>
  (tx: Transaction) => {
    known.set(tx, new Map());
    return work(tx);
  };
