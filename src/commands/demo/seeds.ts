import { readFile } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { z } from 'zod';
import { NewClosure } from '../../studio/settings/closures-contract.js';
import { Studio } from '../../studio/settings/contract.js';
import { addDays, daysBetween, instantAt } from '../../trade/calendar/calendar.js';
import { EventLog } from './event-log.js';
import { readTables } from './tables.js';

/** Lies beside src/ and dist/ alike. */
const FOLDER = new URL('../../../seeds-demo/', import.meta.url);

const Named = z.looseObject({ name: z.string() });
const Used = z.object({ material: z.string(), perStudent: z.int() });
const Glazed = z.object({ material: z.string(), gramsPerDm2: z.string() });

const StudioFile = z.object({
  seededOn: z.iso.date(),
  taxRates: z.array(Named),
  studio: z.strictObject(Studio.shape).omit({ firingTaxRateId: true }),
  firingTaxRate: z.string(),
  ...{ rooms: z.array(Named), closures: z.array(NewClosure), refundPolicies: z.array(Named), boards: z.array(Named) },
  staff: z.array(
    z.object({ name: z.string(), email: z.email(), role: z.enum(['owner', 'tutor']), password: z.string() }),
  ),
  membershipKinds: z.array(Named.extend({ taxRate: z.string(), clay: z.string().nullable() })),
});
const Pack = z.object({ quantity: z.int(), priceMinor: z.int() });
const ShelfFile = z.object({
  materials: z.array(Named),
  suppliers: z.array(Named),
  sold: z.array(z.object({ material: z.string(), priceMinor: z.int(), taxRate: z.string() })),
  supplies: z.array(z.object({ material: z.string(), supplier: z.string(), packs: z.array(Pack) })),
});
const KilnsFile = z.object({
  kilns: z.array(Named),
  schedules: z.array(Named),
  tariffs: z.array(Named.extend({ validFrom: z.iso.date() })),
});
const PlansFile = z.object({
  plans: z.array(
    Named.extend({
      pieces: z.array(z.looseObject({ clay: z.string().nullable(), glaze: Glazed.nullable() })),
      materials: z.array(Used),
      firings: z.array(z.object({ kiln: z.string(), schedule: z.string() })),
      parts: z.array(z.looseObject({ taxRate: z.string() })).default([]),
    }),
  ),
});

export type Seeds = Awaited<ReturnType<typeof readSeeds>>;

/** The invented studio as it stands in seeds-demo/. @throws ZodError that names the place in a file that is wrong */
export async function readSeeds() {
  return {
    ...(await json('studio.json', StudioFile)),
    ...(await readTables((name) => text(name))),
    shelf: await json('shelf.json', ShelfFile),
    firing: await json('kilns.json', KilnsFile),
    ...(await json('plans.json', PlansFile)),
    diary: await json('diary.json', EventLog),
  };
}

const text = (name: string) => readFile(fileURLToPath(new URL(name, FOLDER)), 'utf8');
const json = async <T extends z.ZodType>(name: string, shape: T) => shape.parse(JSON.parse(await text(name)));

export type Shift = {
  /** a day of the seeds as a day of the demo */
  day(seeded: string): string;
  /** "YYYY-MM-DD HH:MM" of the seeds, in the studio's time, as an instant of the demo */
  moment(seeded: string): Date;
};

/** Moves the seeds by whole weeks, so that weekdays stay, to the last week in which nothing of them lies ahead that has happened. */
export function shiftTo(today: string, seededOn: string, timeZone: string): Shift {
  const days = Math.floor(daysBetween(seededOn, today) / 7) * 7;
  return {
    day: (seeded) => addDays(seeded, days),
    moment(seeded) {
      const [day = '', time = ''] = seeded.split(' ');
      return instantAt(addDays(day, days), time, timeZone);
    },
  };
}
