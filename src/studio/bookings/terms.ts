import { addDays } from '../../trade/calendar.js';

type Terms = { priceMinor: number; depositMinor: number; balanceDueDays: number };
export type Instalment = { dueOn: string; amountMinor: number };

/**
 * How a booking is paid: a deposit on the day of booking, the balance so many days before the first session. One sum
 * where nothing is left for either of them, or where both fall on one day.
 *
 * @param charged what it costs in all, and its deposit; the deposit is at most the price
 * @param today    YYYY-MM-DD, the day of booking
 * @param firstDay YYYY-MM-DD, the day of the first session
 */
export function instalments(charged: Terms, today: string, firstDay: string): Instalment[] {
  const { priceMinor, depositMinor } = charged;
  const latest = addDays(firstDay, -charged.balanceDueDays);
  const balanceOn = latest > today ? latest : today;
  if (depositMinor === 0) return [{ dueOn: balanceOn, amountMinor: priceMinor }];
  if (depositMinor === priceMinor || balanceOn === today) return [{ dueOn: today, amountMinor: priceMinor }];
  return [
    { dueOn: today, amountMinor: depositMinor },
    { dueOn: balanceOn, amountMinor: priceMinor - depositMinor },
  ];
}
