import type { Transaction } from '../../database/transaction.js';
import { fromDecimal, toDate } from '../../database/values.js';
import { newId } from '../../http/ids.js';
import { type PageQuery, page, pageArgs } from '../../http/paging.js';
import { Problem, see } from '../../problems.js';
import type { NewPlan, Plan } from './plan-contract.js';
import { PLAN_INCLUDE, planRows, toPlan } from './plan-rows.js';
import { refuseChangeUnderCourses, refuseInvalidPlan, refuseTakenName } from './plan-validation.js';
import { keepPlan, lockPlan } from './queries.js';

/** Adds a plan, the recipe of a course. Refuses ware that one of its own firings would ruin or leave raw. */
export async function addPlan(tx: Transaction, wanted: NewPlan): Promise<Plan> {
  await refuseTakenName(tx, wanted);
  await refuseInvalidPlan(tx, wanted);
  const id = newId();
  await tx.coursePlan.create({ data: { id, ...planRows(wanted) } });
  return getPlan(tx, id);
}

/** The plan as its address shows it, which nobody else can change or give dates until the transaction ends. */
export async function lockPlanForChange(tx: Transaction, id: string): Promise<Plan> {
  await lockPlan(tx, id);
  return getPlan(tx, id);
}

/** The plan of a course that is about to be made: nobody changes it until that stands on it. */
export async function lockPlanForCourse(tx: Transaction, id: string): Promise<Plan> {
  await keepPlan(tx, id);
  return getPlan(tx, id);
}

/**
 * Corrects a plan; lock it first. What its courses were given stays as it is: dates, price, concessions, the prices that were kept.
 * What is reckoned from their plan afresh (price, shelf, kiln loads) is reckoned from what it says now.
 */
export async function changePlan(tx: Transaction, now: Date, id: string, wanted: NewPlan): Promise<Plan> {
  const before = await getPlan(tx, id);
  await refuseTakenName(tx, wanted, id);
  await refuseInvalidPlan(tx, wanted);
  await refuseChangeUnderCourses(tx, now, before, wanted);
  const where = { planId: id };
  await tx.planSession.deleteMany({ where });
  await tx.planPiece.deleteMany({ where });
  await tx.planMaterial.deleteMany({ where });
  await tx.planFiring.deleteMany({ where });
  await tx.planConcession.deleteMany({ where });
  await tx.planPart.deleteMany({ where });
  await tx.coursePlan.update({ where: { id }, data: planRows(wanted) });
  return getPlan(tx, id);
}

/** Offers a plan for no new course; what stands on it stays. @param on YYYY-MM-DD, or null to bring it back */
export async function retirePlan(tx: Transaction, id: string, on: string | null): Promise<Plan> {
  const { name, retiredOn } = await lockPlanForChange(tx, id);
  if ((retiredOn === null) === (on === null))
    throw new Problem('already-there', on === null ? `"${name}" is not retired.` : `"${name}" is retired already.`);
  await tx.coursePlan.update({ where: { id }, data: { retiredOn: on && toDate(on) } });
  return getPlan(tx, id);
}

/** A retired plan is brought back before a course is made of it. */
export function refuseRetired({ name, retiredOn }: Plan): void {
  if (retiredOn !== null)
    throw new Problem(
      'plan-retired',
      `The plan "${name}" is retired. Bring it back first, on its page, or choose another.`,
    );
}

export async function getPlan(tx: Transaction, id: string): Promise<Plan> {
  const row = await tx.coursePlan.findUnique({ where: { id }, include: PLAN_INCLUDE });
  if (!row)
    throw new Problem(
      'not-found',
      'No course plan has this id. Look for it on the page Courses.',
      see('courses', '/api/course-plans'),
    );
  return toPlan(row);
}

/** Several plans at once, by their ids. */
export async function getPlansById(tx: Transaction, ids: readonly string[]): Promise<Plan[]> {
  return (await tx.coursePlan.findMany({ where: { id: { in: [...ids] } }, include: PLAN_INCLUDE })).map(toPlan);
}

export async function listPlans(tx: Transaction, query: PageQuery) {
  return page(await tx.coursePlan.findMany({ include: PLAN_INCLUDE, ...pageArgs(query) }), query, toPlan);
}

/** So many litres of a student's fired ware are in the price, as a decimal string; null: all of them. */
export async function getIncludedLitres(tx: Transaction, planId: string): Promise<string | null> {
  const { firingIncludedLitres } = await tx.coursePlan.findUniqueOrThrow({
    where: { id: planId },
    select: { firingIncludedLitres: true },
  });
  return firingIncludedLitres && fromDecimal(firingIncludedLitres);
}
