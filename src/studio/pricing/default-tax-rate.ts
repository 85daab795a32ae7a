import type { Transaction } from '../../database/transaction.js';
import { getStudio } from '../settings/service.js';

/** The tax rate of the plan's latest course, or else of the latest of any plan; before there is a course the studio's own. */
export async function getLastTaxRateId(tx: Transaction, planId: string): Promise<string> {
  const latest = (where: { planId?: string }) =>
    tx.course.findFirst({ where, orderBy: { id: 'desc' }, select: { taxRateId: true } }); // ids follow the order in which they were made
  const found = (await latest({ planId })) ?? (await latest({}));
  return found?.taxRateId ?? (await getStudio(tx)).firingTaxRateId;
}
