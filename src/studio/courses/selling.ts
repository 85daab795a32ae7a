import { z } from 'zod';
import { LocalDate } from '../../http/types.js';
import { formatDay } from '../../trade/text/format.js';

const PRICE_MINOR_MAX = 10_000_000;
const isIn2000s = (day: string) => '2000-01-01' <= day && day < '2100-01-01';
const Day = LocalDate.refine(isIn2000s, 'must be between 2000 and 2099');
const Age = z.int().min(0).max(120);

/** When places of a course are booked, and for what age it is. */
export const Selling = {
  bookableFrom: Day.nullable().meta({
    description: 'The first day on which places are booked; null: from the beginning.',
  }),
  bookableUntil: Day.nullable().meta({ description: 'The last day on which they are; null: until it begins.' }),
  ageFrom: Age.nullable().meta({
    description: 'How old everybody who comes is at least; null: as young as they like.',
  }),
  ageTo: Age.nullable().meta({ description: 'How old they are at most.' }),
};
export type Selling = {
  bookableFrom: string | null;
  bookableUntil: string | null;
  ageFrom: number | null;
  ageTo: number | null;
};

export const LaterPrice = z
  .strictObject({ from: Day, priceMinor: z.int().min(1).max(PRICE_MINOR_MAX) })
  .meta({ id: 'LaterPrice', description: 'What places cost that are booked from some day to come on.' });
export type LaterPrice = z.output<typeof LaterPrice>;

type Priced = { priceMinor: number; laterPrice: LaterPrice | null };

/** A course as it is sold on a day: who books then pays the price of that day. */
export function soldOn<C extends Priced>(course: C, day: string): C {
  const { laterPrice } = course;
  return laterPrice === null || day < laterPrice.from
    ? course
    : { ...course, priceMinor: laterPrice.priceMinor, laterPrice: null };
}

/** "Booking opens on 3 January 2027."; null where places are booked on that day. */
export function whyNotBookable({ bookableFrom, bookableUntil }: Selling, day: string, locale: string): string | null {
  if (bookableFrom !== null && day < bookableFrom) return `Booking opens on ${formatDay(bookableFrom, locale)}.`;
  if (bookableUntil !== null && day > bookableUntil) return `Booking closed on ${formatDay(bookableUntil, locale)}.`;
  return null;
}

/** "16 or over", "6 to 12", "12 or under"; null where it is for every age. */
export function agesInWords({ ageFrom, ageTo }: Pick<Selling, 'ageFrom' | 'ageTo'>): string | null {
  if (ageFrom !== null && ageTo !== null) return ageFrom === ageTo ? `${ageFrom}` : `${ageFrom} to ${ageTo}`;
  if (ageFrom !== null) return `${ageFrom} or over`;
  return ageTo === null ? null : `${ageTo} or under`;
}
