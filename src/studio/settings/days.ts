import type { Transaction } from '../../database/transaction.js';
import type { Days } from '../../http/paging.js';
import { addDays, instantAt } from '../../trade/calendar/calendar.js';
import { getStudio } from './service.js';

const MIDNIGHT = '00:00';

/** From when until before when those days of the studio last; undefined where nothing is said. */
export async function momentsOf(tx: Transaction, { from, to }: Days): Promise<{ from?: Date; before?: Date }> {
  if (from === undefined && to === undefined) return {};
  const { timeZone } = await getStudio(tx);
  return {
    ...(from !== undefined && { from: instantAt(from, MIDNIGHT, timeZone) }),
    ...(to !== undefined && { before: instantAt(addDays(to, 1), MIDNIGHT, timeZone) }),
  };
}
