import type { Transaction } from '../../database/transaction.js';
import { localDay } from '../../trade/calendar/calendar.js';
import { type Demand, type Draw, moreToCome } from '../../trade/stock/demand.js';
import { plansById } from '../courses/plans.js';
import type { Material } from '../materials/contract.js';
import { enrolments } from '../pricing/enrolment.js';
import { type Usage, usagesOf } from '../pricing/materials.js';
import type { Studio } from '../settings/contract.js';
import { drawnByCourse } from './queries.js';
import type { ComingCourse } from './upcoming-courses.js';

/** What one coming course draws of a material, and the mixes by way of which it does. */
export type CourseDemand = { course: ComingCourse; demand: Demand; mixes: string[] };
/** `mixId`: it is mixed here, and bought nowhere. */
export type MaterialDemand = { material: Material; courses: CourseDemand[]; mixId: string | null };

/**
 * What coming courses draw of each material to work it, under its id. Every course is reckoned as held: clay that is there for a
 * course that falls through keeps for the next one.
 */
export async function directDemands(
  tx: Transaction,
  now: Date,
  coming: readonly ComingCourse[],
  home: Studio,
): Promise<Map<string, MaterialDemand>> {
  const usages = await usagesOf(tx, await plansById(tx, [...new Set(coming.map(({ planId }) => planId))]), home);
  const drawn = await drawnByCourse(
    tx,
    coming.map(({ id }) => id),
  );
  const enrolmentOf = await enrolments(tx, now, home);
  const today = localDay(now, home.timeZone);
  const found = new Map<string, MaterialDemand>();
  for (const course of coming) {
    const { alpha, beta } = enrolmentOf(course.planId);
    // nobody can book on a course that has begun
    const more = course.begun ? [1] : moreToCome(course.places, course.booked, alpha, beta);
    for (const usage of usages.get(course.planId) ?? []) {
      const { material } = usage;
      const draw: Draw = {
        perStudent: usage.quantity,
        drawn: drawn.get(`${course.id} ${material.id}`) ?? 0,
        sessions: drawingSessions(usage, course).map(({ startsAt, minutes }) => ({
          day: laterOf(localDay(startsAt, home.timeZone), today), // what is overdue is needed today
          weight: minutes,
        })),
      };
      const of = found.get(material.id) ?? { material, courses: [], mixId: null };
      of.courses.push({ course, demand: { booked: course.booked, more, draws: [draw] }, mixes: [] });
      found.set(material.id, of);
    }
  }
  return found;
}

const laterOf = (a: string, b: string): string => (a < b ? b : a);

/** Clay goes over the making sessions by their minutes, glaze over the glazing sessions; all else is laid out at the first. */
function drawingSessions({ use }: Usage, { sessions }: ComingCourse): ComingCourse['sessions'] {
  const first = sessions.slice(0, 1);
  if (use === 'other') return first;
  const drawing = sessions.filter(({ purpose }) => purpose === (use === 'clay' ? 'making' : 'glazing'));
  if (drawing.length > 0) return drawing;
  return use === 'clay' ? first : sessions.slice(-1);
}
