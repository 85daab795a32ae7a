import { type Database, inTransaction } from '../../database/transaction.js';
import { writeDayBefore } from './day-before/write.js';
import { listBegunCourses, noteBeginning } from './given-up-places.js';
import { releaseExpired } from './holds.js';
import { listLapsedHolds } from './queries.js';
import { lapseOffers } from './waiting-list/offers.js';
import { listLapsedOffers } from './waiting-list/queries.js';

/** Frees places whose deposit did not come in time, course by course, so that no course stays locked while another is done. */
export async function releaseHolds(db: Database, now: Date): Promise<number> {
  const courseIds = new Set((await listLapsedHolds(db, now)).map(({ courseId }) => courseId));
  let released = 0;
  for (const courseId of courseIds) released += await inTransaction(db, (tx) => releaseExpired(tx, now, courseId));
  return released;
}

/** Ends offers that nobody answered in time, and offers their places to the next, course by course. */
async function lapseAllOffers(db: Database, now: Date): Promise<void> {
  const courseIds = new Set((await listLapsedOffers(db, now)).map(({ courseId }) => courseId));
  for (const courseId of courseIds) await inTransaction(db, (tx) => lapseOffers(tx, now, courseId));
}

/** Judges for the last time, as courses begin, whether places that were given up are filled again. */
async function noteBeginnings(db: Database, now: Date): Promise<void> {
  for (const courseId of await listBegunCourses(db, now))
    await inTransaction(db, (tx) => noteBeginning(tx, now, courseId));
}

/** For the worker's task list. Twice at once is harmless: the second finds nothing to do. */
export const bookingTasks = (db: Database, clock: () => Date) => ({
  'release-holds': async () => {
    await releaseHolds(db, clock());
  },
  'lapse-offers': () => lapseAllOffers(db, clock()),
  'note-beginnings': () => noteBeginnings(db, clock()),
  'write-day-before': async () => {
    await writeDayBefore(db, clock());
  },
});

/** For the worker's crontab: a place is free again at most five minutes after its hold ran out. */
export const bookingCron = [
  { task: 'release-holds', match: '*/5 * * * *', identifier: 'release-holds' },
  { task: 'lapse-offers', match: '*/5 * * * *', identifier: 'lapse-offers' },
  { task: 'note-beginnings', match: '*/5 * * * *', identifier: 'note-beginnings' },
  { task: 'write-day-before', match: '*/15 * * * *', identifier: 'write-day-before' },
];
