import { type Database, inTransaction, LONG_LIMIT_MILLISECONDS } from '../../database/transaction.js';
import { noteEnrolments } from './queries.js';

/** For the worker's task list. Twice at once is harmless: the second finds nothing to note. */
export const pricingTasks = (db: Database, clock: () => Date) => ({
  'note-enrolments': async () => {
    await inTransaction(db, (tx) => noteEnrolments(tx, clock()), { limitMilliseconds: LONG_LIMIT_MILLISECONDS });
  },
});

/** For the worker's crontab: until a course is noted, each price works it out. */
export const pricingCron = [{ task: 'note-enrolments', match: '*/15 * * * *', identifier: 'note-enrolments' }];
