import { type Database, inTransaction } from '../../database/transaction.js';
import { addDays, localDay } from '../../trade/calendar/calendar.js';
import { getStudio } from '../settings/service.js';
import { deleteRequests } from './queries.js';

/** So long after its course began a request is of no more use, and it names somebody who may be no student. */
const KEPT_DAYS = 30;

/** @returns how many were deleted */
export async function forgetRequests(db: Database, now: Date): Promise<number> {
  return inTransaction(db, async (tx) => {
    if (!(await tx.studio.findFirst())) return 0;
    const { timeZone } = await getStudio(tx);
    return deleteRequests(tx, addDays(localDay(now, timeZone), -KEPT_DAYS), timeZone);
  });
}

/** For the worker's task list. */
export const placeRequestTasks = (db: Database, clock: () => Date) => ({
  'forget-place-requests': async () => {
    await forgetRequests(db, clock());
  },
});

/** For the worker's crontab: each night. */
export const placeRequestCron = [
  { task: 'forget-place-requests', match: '23 3 * * *', identifier: 'forget-place-requests' },
];
