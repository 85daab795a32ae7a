import { wholeIn } from '../maths/number.js';

/** Part of a payment: what it came from (a voucher, or money where null), and how much; below zero what went back since. */
export type PaidFrom<T> = { from: T | null; amountMinor: number };

/**
 * From what a refund is taken where a price was paid in several ways: what was paid last goes back first. So nobody can turn a
 * voucher into money, and each part takes back the VAT that it bore.
 *
 * @param history   all payments of one price in their order, refunds among them
 * @param backMinor what goes back now; at most what the history adds up to
 * @returns a part for each thing it was paid from, the last paid first; they add up to backMinor
 * @throws RangeError where less was paid than goes back
 */
export function lastPaidFirst<T>(history: readonly PaidFrom<T>[], backMinor: number): PaidFrom<T>[] {
  const held: PaidFrom<T>[] = [];
  for (const { from, amountMinor } of history)
    if (amountMinor > 0) held.push({ from, amountMinor });
    else takeLast(held, -amountMinor);
  const parts = new Map<T | null, number>();
  for (const { from, amountMinor } of takeLast(held, wholeIn(backMinor, 'A refund', 0, Number.MAX_SAFE_INTEGER)))
    parts.set(from, (parts.get(from) ?? 0) + amountMinor);
  return [...parts].map(([from, amountMinor]) => ({ from, amountMinor }));
}

/** Takes so much off the end of a list, and says what it took. */
function takeLast<T>(held: PaidFrom<T>[], amountMinor: number): PaidFrom<T>[] {
  const taken: PaidFrom<T>[] = [];
  let open = amountMinor;
  while (open > 0) {
    const last = held.pop();
    if (last === undefined) throw new RangeError('No more can be refunded than was paid.');
    const part = Math.min(open, last.amountMinor);
    taken.push({ from: last.from, amountMinor: part });
    if (part < last.amountMinor) held.push({ from: last.from, amountMinor: last.amountMinor - part });
    open -= part;
  }
  return taken;
}
