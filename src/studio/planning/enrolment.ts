import type { Transaction } from '../../database/transaction.js';
import type { PriceInputs } from '../../trade/course-price.js';
import { fitEnrolment } from '../../trade/enrolment-fit.js';
import type { Studio } from '../settings/contract.js';
import { pastCourses } from './queries.js';

export type Enrolment = PriceInputs['enrolment'];
type Evidence = ReturnType<typeof fitEnrolment>['evidence'];

/**
 * How many book on a course of a plan, learnt from the courses that had begun before an instant, and on what evidence. The database is
 * asked once, however many plans are then asked for.
 */
export async function enrolments(tx: Transaction, before: Date, home: Studio): Promise<(planId: string) => Enrolment> {
  const past = await pastCourses(tx, before, home.timeZone);
  const setting = { alpha: home.enrolmentAlpha, beta: home.enrolmentBeta };
  const learnt = new Map<string, Enrolment>();
  return (planId) => {
    const known = learnt.get(planId);
    if (known) return known;
    const own = past.filter((course) => course.planId === planId);
    const others = past.filter((course) => course.planId !== planId);
    const { alpha, beta, evidence } = fitEnrolment(own, others, setting);
    const enrolment = { alpha, beta, source: sourceOf(evidence) };
    learnt.set(planId, enrolment);
    return enrolment;
  };
}

const PRICE = "It doesn't depend on the price.";

/** What is mostly the owner's own expectation is still called an assumption. */
function sourceOf({ own, others, fillPercent, ownPercent, settingPercent }: Evidence): Enrolment['source'] {
  if (own + others === 0)
    return { kind: 'assumption', detail: `The studio's setting, until past courses show how many book. ${PRICE}` };
  const fill = `${fillPercent} % of places on average`;
  if (settingPercent > 50)
    return {
      kind: 'assumption',
      detail: `Few courses yet (${own} of this plan, ${others} of others): the studio's setting counts ${settingPercent} %. With it, ${fill}. ${PRICE}`,
    };
  const detail =
    own === 0
      ? `Learnt from ${courses(others)} of other plans, as none of this plan was held: ${fill}. ${PRICE}`
      : `Learnt from ${courses(own)} of this plan and ${others} others: ${fill}. The plan's own history counts ${ownPercent} %. ${PRICE}`;
  return { kind: 'history', detail };
}

const courses = (count: number): string => (count === 1 ? '1 past course' : `${count} past courses`);
