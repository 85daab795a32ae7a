import { type Database, inTransaction, LONG_LIMIT_MILLISECONDS, type Transaction } from '../../database/transaction.js';
import { listBegunCourses, noteBeginning } from '../../studio/bookings/given-up-places.js';
import { chargeBegunMonths } from '../../studio/memberships/months.js';
import { noteAsSent } from '../../studio/notices/past.js';
import { addDays, daysBetween, localDay } from '../../trade/calendar/calendar.js';
import { groupBy } from '../../trade/maths/group-by.js';
import { IdRegistry } from './id-registry.js';
import { replayEvents } from './replay.js';
import { REFERENCE_DATA } from './seed-reference-data.js';
import { readSeeds, shiftTo } from './seeds.js';
import { timelineOf } from './timeline.js';

/** Letters of the last days are really written; older ones went out at their time. */
const RECENT_DAYS = 14;

const dayOf = ({ at }: { at: string }) => at.slice(0, 10);
/** What is read once in a transaction, and its beginning and end, cost a week no more than a day. */
const DAYS_TOGETHER = 7;

/** Loads the invented studio into an empty database, as if its people had lived until `now`: a transaction for each week, until the signal says stop. */
export async function loadDemo(db: Database, now: Date, signal?: AbortSignal): Promise<void> {
  const seeds = await readSeeds();
  const { timeZone } = seeds.studio;
  const shift = shiftTo(localDay(now, timeZone), seeds.seededOn, timeZone);
  const names = new IdRegistry();
  const year = timelineOf(seeds);
  const opened = shift.moment(year[0]?.at ?? `${seeds.seededOn} 09:00`);
  const recent = addDays(seeds.seededOn, -RECENT_DAYS);
  const settingUp = (work: (tx: Transaction) => Promise<unknown>) =>
    inTransaction(db, work, { limitMilliseconds: LONG_LIMIT_MILLISECONDS });
  for (const furnish of REFERENCE_DATA) await settingUp((tx) => furnish({ tx, now: opened, seeds, shift, names }));
  const liveThrough = async (entries: typeof year) => {
    const weekOf = (entry: { at: string }) =>
      Math.floor(daysBetween(dayOf(entries[0] ?? entry), dayOf(entry)) / DAYS_TOGETHER);
    for (const [, sameWeek] of groupBy(entries, weekOf))
      await settingUp(async (tx) => {
        for (const [, sameDay] of groupBy(sameWeek, dayOf)) {
          signal?.throwIfAborted();
          for (const entry of sameDay) await replayEvents({ tx, now: shift.moment(entry.at), names, shift }, entry);
          const evening = shift.moment(sameDay.at(-1)?.at ?? '');
          for (const courseId of await listBegunCourses(tx, evening)) await noteBeginning(tx, evening, courseId);
          await chargeBegunMonths(tx, evening);
        }
      });
  };
  await liveThrough(year.filter((entry) => dayOf(entry) < recent));
  await settingUp(noteAsSent);
  await liveThrough(year.filter((entry) => dayOf(entry) >= recent));
}
