import { eachOnce, type Transaction } from '../../database/transaction.js';
import { getStudio } from '../settings/service.js';
import { listLastTaxRates } from './queries.js';

/** The tax rate of the plan's latest course, or else of the latest of any plan; before there is a course the studio's own. */
export async function getLastTaxRateId(tx: Transaction, planId: string): Promise<string> {
  const found = (await getLastTaxRateIds(tx, [planId])).get(planId);
  if (found !== undefined) return found;
  const latest = await tx.course.findFirst({ orderBy: { id: 'desc' }, select: { taxRateId: true } }); // ids follow the order in which they were made
  return latest?.taxRateId ?? (await getStudio(tx)).firingTaxRateId;
}

/** The tax rates of the latest courses of several plans, under the plans' ids; none of a plan that has no course. */
export const getLastTaxRateIds = (tx: Transaction, planIds: readonly string[]): Promise<Map<string, string>> =>
  eachOnce(tx, 'last tax rate', planIds, (missing) => listLastTaxRates(tx, missing));
