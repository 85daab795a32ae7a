import { amountMinor, Decimal, splitExactly } from './money.js';

/** A session of open studio that somebody comes to. `leftMinutes` is what their membership still includes in its month; 0 without one. */
export type BenchSession = { id: string; month: string; minutes: number };

export type IncludedSession = BenchSession & { includedMinutes: number; includedMinor: number };

/**
 * What a membership includes of a visit, session after session: as many minutes as are left in its month. What is beyond is paid at the
 * usual price, by the minute, rounded once for the visit.
 *
 * @param leftMinutes by month
 * @param priceMinor  of all sessions together, by the minute each
 * @returns those of which something is included; their sums add up to what is included of the price
 */
export function includeVisit(
  sessions: readonly BenchSession[],
  leftMinutes: ReadonlyMap<string, number>,
  priceMinor: number,
): IncludedSession[] {
  const left = new Map(leftMinutes);
  const included = sessions.flatMap((session) => {
    const minutes = Math.min(session.minutes, Math.max(0, left.get(session.month) ?? 0));
    left.set(session.month, (left.get(session.month) ?? 0) - minutes);
    return minutes === 0 ? [] : [{ ...session, includedMinutes: minutes }];
  });
  if (included.length === 0) return [];
  const sum = (of: readonly number[]) => of.reduce((so, minutes) => so + minutes, 0);
  const inAll = sum(sessions.map(({ minutes }) => minutes));
  const parts = included.map(({ includedMinutes }) => includedMinutes);
  const beyondMinor = partMinor(priceMinor, inAll - sum(parts), inAll);
  const each = splitExactly(priceMinor - beyondMinor, parts);
  return included.map((session, i) => ({ ...session, includedMinor: each[i] ?? 0 }));
}

/** What of a bill is included where so much of what it is for is: the bill less what is beyond, which is rounded once. */
export const includedOfBill = (billMinor: number, included: bigint, billed: bigint): number =>
  billMinor - partMinor(billMinor, (billed - included).toString(), billed.toString());

const partMinor = (sumMinor: number, part: number | string, whole: number | string): number =>
  amountMinor(sumMinor, new Decimal(part).div(whole).toFixed());
