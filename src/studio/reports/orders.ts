import type { Transaction } from '../../database/transaction.js';
import { addDays } from '../../trade/calendar/calendar.js';
import { listAllAskingForCount } from '../materials/queries.js';
import type { OutlookItem } from '../stock-outlook/contract.js';
import { getOutlook } from '../stock-outlook/service.js';
import type { Today, TodayOrder } from './contract.js';

/** An order is told of when its last day is as near as this, or has passed. */
const ORDER_DAYS_AHEAD = 14;

/** What must be ordered soon, the most pressing first, and which materials ask for a count, having been drawn beyond the books. */
export async function shelfOf(
  tx: Transaction,
  now: Date,
  { today, lapsed }: { today: string; lapsed: readonly string[] },
): Promise<Pick<Today, 'orders' | 'counts'>> {
  const last = addDays(today, ORDER_DAYS_AHEAD);
  const orders = (await getOutlook(tx, now, lapsed))
    .flatMap(orderOf)
    .filter(({ orderBy }) => orderBy <= last)
    .sort((a, b) => a.orderBy.localeCompare(b.orderBy) || a.name.localeCompare(b.name));
  return { orders, counts: await listAllAskingForCount(tx) };
}

/** What the outlook says of a material, as an order; none where it will do. */
function orderOf(item: OutlookItem): TodayOrder[] {
  const { materialId, name, unit, mixId, packs, packQuantity, orderBy, shortOn } = item;
  if (orderBy === null || packs === 0) return [];
  const likely = { shortOn: shortOn.sure ?? shortOn.oneInTwo, sure: shortOn.sure !== null };
  return [{ materialId, name, unit, isMixed: mixId !== null, packs, packQuantity, orderBy, ...likely }];
}
