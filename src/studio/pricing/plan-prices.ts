import type { Transaction } from '../../database/transaction.js';
import type { PageQuery } from '../../http/paging.js';
import { Problem } from '../../problems.js';
import type { Plan } from '../courses/plan-contract.js';
import { listPlans } from '../courses/plans.js';
import type { PlanPriceInShort } from './contract.js';
import { getLastTaxRateId } from './default-tax-rate.js';
import { getPlanInputs, getShared, type Shared } from './price-inputs.js';
import { listNextCourses } from './queries.js';
import { fairPriceOf } from './service.js';

/** What each plan would have to cost if it ran today, and its next course; what all of them go by is read once. */
export async function listPlanPrices(tx: Transaction, now: Date, query: PageQuery) {
  const { items: plans, next } = await listPlans(tx, query);
  const coming = await listNextCourses(
    tx,
    now,
    plans.map(({ id }) => id),
  );
  const shared = plans.some(({ kind }) => kind !== 'private') ? await getShared(tx, now) : undefined;
  const items: PlanPriceInShort[] = [];
  for (const plan of plans) {
    const course = coming.get(plan.id);
    items.push({
      planId: plan.id,
      ...(shared && plan.kind !== 'private' ? await priceInShort(tx, now, plan, shared) : UNPRICED),
      next: course ? { courseId: course.courseId, title: course.title, startsAt: course.startsAt.toISOString() } : null,
    });
  }
  return { items, next };
}

const UNPRICED = { fairPriceMinor: null, refusal: null };

/** One plan that lacks something must not take the prices of the others away. */
async function priceInShort(tx: Transaction, now: Date, plan: Plan, shared: Shared) {
  try {
    const taxRateId = await getLastTaxRateId(tx, plan.id);
    const inputs = await getPlanInputs(tx, now, plan, taxRateId, shared);
    return { fairPriceMinor: fairPriceOf(inputs), refusal: null };
  } catch (error) {
    if (!(error instanceof Problem)) throw error;
    return { fairPriceMinor: null, refusal: error.message };
  }
}
