import { type Database, inTransaction } from '../../database/transaction.js';
import { localDay } from '../../trade/calendar.js';
import { live } from './diary.js';
import { furnish } from './furnish.js';
import { Names } from './names.js';
import { readSeeds, shiftTo } from './seeds.js';

/** Loads the invented studio into an empty database, as if its people had lived until `now`: the diary day by day, each in its transaction. */
export async function loadDemo(db: Database, now: Date): Promise<void> {
  const seeds = await readSeeds();
  const { timeZone } = seeds.studio;
  const shift = shiftTo(localDay(now, timeZone), seeds.seededOn, timeZone);
  const names = new Names();
  const opened = shift.moment(seeds.diary[0]?.at ?? `${seeds.seededOn} 09:00`);
  await inTransaction(db, (tx) => furnish({ tx, now: opened, seeds, shift, names }));
  for (const entry of seeds.diary) {
    const then = shift.moment(entry.at);
    await inTransaction(db, (tx) => live({ tx, now: then, names, shift }, entry));
  }
}
