import { addDays } from '../../trade/calendar/calendar.js';
import { splitExactly } from '../../trade/money/money.js';
import type { Instalment } from '../accounts/charges/charge-state.js';

/** What is charged for places that are paid in the same way: `balancePayments` is in how many payments after the deposit. */
export type Charged = { priceMinor: number; depositMinor: number; balancePayments: number };
type Dates = { balanceDueDays: number; balanceEveryDays: number };

/**
 * How a booking is paid: a deposit by the day on which its hold ends, the balance in equal payments, so many days apart, the last of
 * them so many days before the first session. What would have been due before the deposit is due with it; what falls due on one day
 * is one payment.
 *
 * @param charged    what it costs in all; a deposit is at most its price
 * @param firstDueOn YYYY-MM-DD, before which nothing is due: the day on which the hold ends, or of booking where nothing is held
 * @param firstDay   YYYY-MM-DD, the day of the first session
 * @returns in the order of their days, each above nothing; they add up to the price
 */
export function instalments(
  charged: readonly Charged[],
  dates: Dates,
  firstDueOn: string,
  firstDay: string,
): Instalment[] {
  const dueMinor = new Map<string, number>();
  const ask = (day: string, amountMinor: number) => {
    const dueOn = day > firstDueOn ? day : firstDueOn;
    if (amountMinor > 0) dueMinor.set(dueOn, (dueMinor.get(dueOn) ?? 0) + amountMinor);
  };
  const last = addDays(firstDay, -dates.balanceDueDays);
  for (const { depositMinor, ...of } of charged) {
    ask(firstDueOn, depositMinor);
    const balance = balanceOf({ depositMinor, ...of });
    for (const [i, amountMinor] of balance.entries())
      ask(addDays(last, -dates.balanceEveryDays * (balance.length - 1 - i)), amountMinor);
  }
  return [...dueMinor]
    .map(([dueOn, amountMinor]) => ({ dueOn, amountMinor }))
    .sort((a, b) => (a.dueOn < b.dueOn ? -1 : 1));
}

/** In how many payments something is paid that is booked early enough: card fees fall on each. */
export function paymentsFor(charged: Charged): number {
  return (charged.depositMinor > 0 ? 1 : 0) + balanceOf(charged).length;
}

/** The payments of the balance: none of nothing, so never more than it has pennies. */
function balanceOf({ priceMinor, depositMinor, balancePayments }: Charged): number[] {
  const balanceMinor = priceMinor - depositMinor;
  const payments = Math.min(balancePayments, balanceMinor);
  return payments === 0 ? [] : splitExactly(balanceMinor, Array<number>(payments).fill(1));
}
