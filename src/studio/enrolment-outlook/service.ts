import type { Transaction } from '../../database/transaction.js';
import { addDays, daysBetween, instantAt, localDay } from '../../trade/calendar/calendar.js';
import {
  type BookingPace,
  chanceBooked,
  countNotPassed,
  finalEnrolment,
  paceOf,
} from '../../trade/pricing/booking-pace.js';
import { betaBinomial } from '../../trade/pricing/enrolment.js';
import { type Enrolment, getEnrolments } from '../pricing/enrolment.js';
import { getStudio } from '../settings/service.js';
import type { CourseEnrolment, EnrolmentOutlook } from './contract.js';
import {
  type ComingCourse,
  listBookingLeads,
  listComingCourses,
  listEndingHolds,
  listPeopleToRing,
} from './queries.js';

/** Where the owner names no day, so long before a course begins it is decided whether it takes place. */
const DECIDED_DAYS_BEFORE = 7;
const HOLDS_DAYS_AHEAD = 7;
const ONE_IN_TEN = 0.1;
const AS_LIKELY_AS_NOT = 0.5;

/**
 * Which courses to come are filling and which are not, whose holds run out within a week, and whom to ring.
 *
 * @throws Problem set-up-missing
 */
export async function getEnrolmentOutlook(tx: Transaction, now: Date): Promise<EnrolmentOutlook> {
  const studio = await getStudio(tx);
  const today = localDay(now, studio.timeZone);
  const coming = await listComingCourses(tx, now);
  const enrolmentOf = await getEnrolments(tx, now, studio);
  const leads = await listBookingLeads(tx, now);
  const pace = {
    course: paceOf(leads.filter(({ kind }) => kind === 'course')),
    openStudio: paceOf(leads.filter(({ kind }) => kind === 'openStudio')),
  };
  const courses = coming.map((course): CourseEnrolment => {
    const begins = localDay(course.startsAt, studio.timeZone);
    const decideOn = decisionDay(course, today, begins);
    const { decideOn: set, startsAt, ...known } = course;
    return {
      ...known,
      startsAt: startsAt.toISOString(),
      left: Math.max(0, course.places - course.confirmed - course.held - course.offered - course.madeUp),
      ...{ decideOn, decideOnIsSet: set !== null },
      expected:
        course.kind === 'private'
          ? null
          : expectedOf(
              course,
              { today, begins, decideOn },
              enrolmentOf({ id: course.planId, kind: course.kind }),
              pace[course.kind],
            ),
    };
  });
  const titles = new Map(courses.map(({ courseId, title }) => [courseId, title]));
  const open = courses.filter(({ left, kind }) => left > 0 && kind === 'course').map(({ courseId }) => courseId);
  const calls = await listPeopleToRing(tx, now, open);
  const holds = await listEndingHolds(
    tx,
    now,
    instantAt(addDays(today, HOLDS_DAYS_AHEAD + 1), '00:00', studio.timeZone),
  );
  return {
    ...{ today, courses },
    holds: holds.map((hold) => ({ ...hold, heldUntil: hold.heldUntil.toISOString() })),
    calls: calls
      .map((call) => ({ ...call, title: titles.get(call.courseId) ?? '', since: call.since.toISOString() }))
      .sort((a, b) => open.indexOf(a.courseId) - open.indexOf(b.courseId) || a.since.localeCompare(b.since)),
  };
}

/** The day that the owner gave, or a week before it begins; never after it begins. */
function decisionDay({ minimum, decideOn }: ComingCourse, today: string, begins: string): string | null {
  if (minimum === 0) return null;
  const usual = addDays(begins, -DECIDED_DAYS_BEFORE);
  const day = decideOn ?? (usual < today ? today : usual);
  return day > begins ? begins : day;
}

type Days = { today: string; begins: string; decideOn: string | null };

function expectedOf(
  { places, minimum, confirmed, held }: ComingCourse,
  { today, begins, decideOn }: Days,
  { alpha, beta, source }: Enrolment,
  pace: BookingPace,
): CourseEnrolment['expected'] {
  const booked = confirmed + held;
  const shareOn = (day: string) => pace(daysBetween(day, begins));
  const share = shareOn(today);
  const final = finalEnrolment(
    betaBinomial(places, alpha, beta).map((chance) => chance.toNumber()),
    booked,
    share,
  );
  const chanceOn = (day: string) => chanceBooked(final, { booked, share, by: shareOn(day), least: minimum });
  const last = decideOn ?? begins;
  const ahead = booked >= minimum ? [] : daysUntil(today, last);
  return {
    mean: final.reduce((sum, chance, n) => sum + chance * n, 0).toFixed(1),
    low: final.length - 1 - countNotPassed(final.toReversed(), ONE_IN_TEN), // counted from above
    high: countNotPassed(final, ONE_IN_TEN),
    minimumChance: chanceOn(last < today ? today : last).toFixed(2),
    minimumOn: ahead.find((day) => chanceOn(day) >= AS_LIKELY_AS_NOT) ?? null,
    isAssumption: source.kind === 'assumption',
    detail: source.detail,
  };
}

const daysUntil = (today: string, last: string): string[] =>
  Array.from({ length: Math.max(0, daysBetween(today, last)) }, (_, i) => addDays(today, i + 1));
