import type { Transaction } from '../../database/transaction.js';
import type { PageQuery } from '../../http/paging.js';
import { Problem } from '../../problems.js';
import type { Plan } from '../courses/plan-contract.js';
import { listPlans } from '../courses/plans.js';
import { getMaterialsById } from '../materials/service.js';
import { getUnitCosts } from '../mixes/costs.js';
import type { PlanPriceInShort } from './contract.js';
import { getLastTaxRateId, getLastTaxRateIds } from './default-tax-rate.js';
import { readFirings } from './firings.js';
import { materialIdsOf } from './materials.js';
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
  const priced = plans.filter(({ kind }) => kind !== 'private');
  const shared = priced.length > 0 ? await getShared(tx, now) : undefined;
  if (shared) await readForAll(tx, priced);
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

/** Asks at once for what the prices of these plans go by, so that each of them finds it known. */
async function readForAll(tx: Transaction, plans: readonly Plan[]): Promise<void> {
  await getLastTaxRateIds(
    tx,
    plans.map(({ id }) => id),
  );
  const materialIds = [...new Set(plans.flatMap(materialIdsOf))];
  await getMaterialsById(tx, materialIds);
  await getUnitCosts(tx, materialIds);
  await readFirings(tx, plans);
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
