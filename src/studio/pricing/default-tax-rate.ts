import type { Transaction } from '../../database/transaction.js';
import { Problem } from '../../problems.js';

/** The tax rate of the plan's latest course, or else of the latest of any plan. */
export async function getLastTaxRateId(tx: Transaction, planId: string): Promise<string> {
  const latest = (where: { planId?: string }) =>
    tx.course.findFirst({ where, orderBy: { id: 'desc' }, select: { taxRateId: true } }); // ids follow the order in which they were made
  const found = (await latest({ planId })) ?? (await latest({}));
  if (!found)
    throw new Problem(
      'price-incomplete',
      'No course says yet at which tax rate it is sold. Put its first course in the calendar, or name the rate.',
    );
  return found.taxRateId;
}
