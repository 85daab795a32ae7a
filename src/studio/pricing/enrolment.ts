import type { Transaction } from '../../database/transaction.js';
import { digest } from '../../http/digest.js';
import { remember } from '../../trade/maths/remember.js';
import type { PriceInputs } from '../../trade/pricing/course-price.js';
import { fitEnrolment } from '../../trade/pricing/enrolment-fit.js';
import type { PlanKind } from '../courses/plan-terms.js';
import type { Studio } from '../settings/contract.js';
import { listPastCourses } from './queries.js';

export type Enrolment = PriceInputs['enrolment'];
type Evidence = ReturnType<typeof fitEnrolment>['evidence'];

/**
 * How many book on a course of a plan, learnt from the courses that had begun before an instant, and on what evidence. Open studio is
 * learnt from its own past visits alone, and tells courses nothing; a private session is one group, of which nothing can be learnt. The
 * database is asked once, however many plans are then asked for.
 */
export async function getEnrolments(
  tx: Transaction,
  before: Date,
  studio: Studio,
): Promise<(plan: { id: string; kind: PlanKind }) => Enrolment> {
  const counted = await listPastCourses(tx, before);
  const past = counted.flatMap(({ courses, ...alike }) => Array.from({ length: courses }, () => alike));
  const setting = { alpha: studio.enrolmentAlpha, beta: studio.enrolmentBeta };
  const known = digest([setting, counted]);
  return ({ id: planId, kind }) =>
    learnt(`${kind} ${planId} ${known}`, () => {
      const own = past.filter((course) => course.planId === planId);
      const others = past.filter((course) => kind === 'course' && course.kind === 'course' && course.planId !== planId);
      const { alpha, beta, evidence } = fitEnrolment(own, others, setting);
      return { alpha, beta, source: kind === 'private' ? OF_A_GROUP : sourceOf(evidence, kind) };
    });
}

/** The same past courses teach the same of a plan. */
const learnt = remember<Enrolment>(100);

const PRICE = "It doesn't depend on the price.";

const OF_A_GROUP: Enrolment['source'] = {
  kind: 'assumption',
  detail: "The studio's setting: a private session is booked by one group, of which past courses tell nothing.",
};

/** What is mostly the owner's own expectation is still called an assumption. */
function sourceOf(evidence: Evidence, kind: PlanKind): Enrolment['source'] {
  if (kind === 'openStudio') return sourceOfVisits(evidence);
  const { own, others, fillPercent, ownPercent, settingPercent } = evidence;
  if (own + others === 0)
    return { kind: 'assumption', detail: `The studio's setting, until past courses show how many book. ${PRICE}` };
  const fill = `${fillPercent}% of places on average`;
  if (settingPercent > 50)
    return {
      kind: 'assumption',
      detail: `Few courses yet (${own} of this plan, ${others} of others): the studio's setting counts ${settingPercent}%. With it, ${fill}. ${PRICE}`,
    };
  const detail =
    own === 0
      ? `Learnt from ${courses(others)} of other plans, as none of this plan has run: ${fill}. ${PRICE}`
      : `Learnt from ${courses(own)} of this plan and ${others} others: ${fill}. The plan's own history counts ${ownPercent}%. ${PRICE}`;
  return { kind: 'history', detail };
}

function sourceOfVisits({ own, fillPercent, settingPercent }: Evidence): Enrolment['source'] {
  if (own === 0)
    return { kind: 'assumption', detail: `The studio's setting, until past visits show how many come. ${PRICE}` };
  const detail = `Learnt from ${own} past ${own === 1 ? 'visit' : 'visits'} of this open studio alone, the studio's setting counting ${settingPercent}%: ${fillPercent}% of benches on average. ${PRICE}`;
  return { kind: settingPercent > 50 ? 'assumption' : 'history', detail };
}

const courses = (count: number): string => (count === 1 ? '1 past course' : `${count} past courses`);
