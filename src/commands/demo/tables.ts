import { parse } from 'csv-parse/sync';
import { z } from 'zod';
import { DemoFiring } from './event-log.js';

// What of the invented studio is kept in tables, one line for each thing that a person would write on one line.

const at = z.string();
const whole = z.coerce.number().pipe(z.int());

const PersonRow = z.object({
  ...{ name: at, email: z.string(), phone: z.string(), address: z.string(), memberSince: z.string() },
});
const CourseRow = z.object({
  called: z.string().meta({ description: 'How the other tables name it.' }),
  ...{ title: z.string(), plan: z.string(), places: whole, minimum: whole, priceMinor: whole, depositMinor: whole },
  ...{ holdHours: whole, balanceDueDays: whole, perHeadAboveMinor: z.string(), completed: z.string() },
});
const SessionRow = z.object({
  ...{ course: z.string(), day: z.iso.date(), from: z.string(), to: z.string() },
  ...{ room: z.string(), tutors: z.string() },
});
const BookingRow = z.object({
  ...{ at, course: z.string(), payer: z.string(), attendees: z.string() },
  ...{ depositPaid: z.string(), depositBy: z.string(), restPaid: z.string(), restBy: z.string() },
});
const WareRow = z.object({
  ...{ at, maker: z.string(), course: z.string(), paidBy: z.string(), board: z.string(), stage: z.string() },
  ...{ form: z.string(), size: z.string(), description: z.string(), clay: z.string(), count: whole },
});
const StockRow = z.object({
  ...{ at, did: z.enum(['delivery', 'draw', 'reclaim', 'waste', 'count']), material: z.string(), quantity: whole },
  ...{ costMinor: z.string(), supplier: z.string(), course: z.string(), note: z.string() },
});
const HoursRow = z.object({
  ...{ at, course: z.string(), what: z.string(), minutes: whole, note: z.string() },
});
const CollectionRow = z.object({ at, maker: z.string(), paysBy: z.string() });

export type Tables = Awaited<ReturnType<typeof readTables>>;

/** @throws ZodError that names the line of a table that is wrong */
export async function readTables(text: (name: string) => Promise<string>) {
  const rows = async <T extends z.ZodType>(name: string, row: T) =>
    z.array(row).parse(parse(await text(name), { columns: true, bom: true }));
  return {
    people: await rows('people.csv', PersonRow),
    courses: await rows('courses.csv', CourseRow),
    sessions: await rows('sessions.csv', SessionRow),
    bookings: await rows('bookings.csv', BookingRow),
    ware: await rows('ware.csv', WareRow),
    firings: await rows('firings.csv', DemoFiring),
    stock: await rows('stock.csv', StockRow),
    hours: await rows('hours.csv', HoursRow),
    collections: await rows('collections.csv', CollectionRow),
  };
}
