import type { Transaction } from '../../database/transaction.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { type Demand, distributionOfFurtherBookings, type PlannedDraw } from '../../trade/stock/demand.js';
import { getPlansById } from '../courses/plans.js';
import type { Material } from '../materials/contract.js';
import { getEnrolments } from '../pricing/enrolment.js';
import { getUsages, type Usage } from '../pricing/materials.js';
import type { Studio } from '../settings/contract.js';
import { getDrawnByCourse } from './queries.js';
import type { UpcomingCourse } from './upcoming-courses.js';

/** What one coming course draws of a material, and the mixes by way of which it does. */
export type CourseDemand = { course: UpcomingCourse; demand: Demand; mixes: string[] };
/** `mixId`: it is mixed here, and bought nowhere. */
export type MaterialDemand = { material: Material; courses: CourseDemand[]; mixId: string | null };

/**
 * What coming courses draw of each material to work it, under its id. Every course is reckoned as held: clay that is there for a
 * course that falls through keeps for the next one.
 */
export async function listDirectDemands(
  tx: Transaction,
  now: Date,
  coming: readonly UpcomingCourse[],
  studio: Studio,
): Promise<Map<string, MaterialDemand>> {
  const plans = await getPlansById(tx, [...new Set(coming.map(({ planId }) => planId))]);
  const planOf = new Map(plans.map((plan) => [plan.id, plan]));
  const usages = await getUsages(tx, plans, studio);
  const drawn = await getDrawnByCourse(
    tx,
    coming.map(({ id }) => id),
  );
  const enrolmentOf = await getEnrolments(tx, now, studio);
  const today = localDay(now, studio.timeZone);
  const found = new Map<string, MaterialDemand>();
  for (const course of coming) {
    const plan = planOf.get(course.planId);
    if (!plan) continue; // it was read with the course
    const { alpha, beta } = enrolmentOf(plan);
    // nobody can book on a course that has begun
    const sessionsOf = sessionsByUse(course, studio.timeZone, today);
    const more = course.begun ? [1] : distributionOfFurtherBookings(course.places, course.booked, alpha, beta);
    for (const usage of usages.get(course.planId) ?? []) {
      const { material } = usage;
      const draw: PlannedDraw = {
        perStudent: usage.quantity,
        drawn: drawn.get(`${course.id} ${material.id}`) ?? 0,
        sessions: sessionsOf(usage.use),
      };
      const of = found.get(material.id) ?? { material, courses: [], mixId: null };
      of.courses.push({ course, demand: { booked: course.booked, more, draws: [draw] }, mixes: [] });
      found.set(material.id, of);
    }
  }
  return found;
}

/** The sessions at which a course draws, by what for. One list for all its materials: what follows from its days is worked out once. */
function sessionsByUse(course: UpcomingCourse, timeZone: string, today: string) {
  const known = new Map<Usage['use'], PlannedDraw['sessions']>();
  return (use: Usage['use']): PlannedDraw['sessions'] => {
    const found =
      known.get(use) ??
      drawingSessions(use, course).map(({ startsAt, minutes }) => ({
        day: laterOf(localDay(startsAt, timeZone), today), // what is overdue is needed today
        weight: minutes,
      }));
    known.set(use, found);
    return found;
  };
}

const laterOf = (a: string, b: string): string => (a < b ? b : a);

/** Clay goes over the making sessions by their minutes, glaze over the glazing sessions; all else is laid out at the first. */
function drawingSessions(use: Usage['use'], { sessions }: UpcomingCourse): UpcomingCourse['sessions'] {
  const first = sessions.slice(0, 1);
  if (use === 'other') return first;
  const drawing = sessions.filter(({ purpose }) => purpose === (use === 'clay' ? 'making' : 'glazing'));
  if (drawing.length > 0) return drawing;
  return use === 'clay' ? first : sessions.slice(-1);
}
