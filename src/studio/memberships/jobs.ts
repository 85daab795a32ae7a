import { type Database, inSnapshot, inTransaction, type Transaction } from '../../database/transaction.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { recordSupply } from '../accounts/charges/charges.js';
import { getStudio } from '../settings/service.js';
import { chargeMonths } from './months.js';
import { listToCharge, listToSupply } from './queries.js';

/** What waits by the studio's day; nothing before the studio was entered. */
async function listWaiting(
  db: Database,
  now: Date,
  list: (tx: Transaction, today: string) => Promise<string[]>,
): Promise<string[]> {
  return inSnapshot(db, async (tx) => {
    if ((await tx.studio.count()) === 0) return [];
    return list(tx, localDay(now, (await getStudio(tx)).timeZone));
  });
}

/**
 * Charges what has begun and is not charged yet, membership by membership, and then notes which months are over: what was paid for them
 * is income from then on. Where the program was switched off for months, each of them is charged now. Twice at once is harmless.
 */
export async function chargeMemberships(db: Database, now: Date): Promise<number> {
  let charged = 0;
  for (const id of await listWaiting(db, now, listToCharge))
    charged += await inTransaction(db, (tx) => chargeMonths(tx, now, id));
  for (const chargeId of await listWaiting(db, now, listToSupply))
    await inTransaction(db, (tx) => recordSupply(tx, now, chargeId));
  return charged;
}

/** For the worker's task list. */
export const membershipTasks = (db: Database, clock: () => Date) => ({
  'charge-memberships': async () => {
    await chargeMemberships(db, clock());
  },
});

/** For the worker's crontab: a month is charged at most an hour after it began. */
export const membershipCron = [{ task: 'charge-memberships', match: '7 * * * *', identifier: 'charge-memberships' }];
