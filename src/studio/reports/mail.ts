import type { Transaction } from '../../database/transaction.js';
import { addDays } from '../../trade/calendar/calendar.js';
import type { Mail } from './contract.js';
import { dayNamed, type ReportDay } from './day.js';
import { undelivered } from './queries.js';

/** What reached nobody for four weeks is for the list of notices; here it would only be passed over. */
const TOLD_DAYS = 28;

/** The messages that reached nobody of late, the latest first. */
export async function mailOf(tx: Transaction, today: ReportDay, timeZone: string): Promise<Mail> {
  const since = dayNamed(addDays(today.day, -TOLD_DAYS), timeZone).startsAt;
  return { failed: (await undelivered(tx, since)).map(({ at, ...row }) => ({ ...row, at: at.toISOString() })) };
}
